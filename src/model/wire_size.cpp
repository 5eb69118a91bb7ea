// Sizes of wires, as the file has them.
#include "model/wire_gauge.hpp"
#include "model/wiring.hpp"

namespace lanyard::model {

std::optional<Rational> wire_size(Build& b, const LocatedText& text) {
    const std::string& t = text.text;
    const std::size_t blank = t.find_last_of(" 0123456789");
    const std::size_t unit = t.find_first_not_of(" 0123456789.");
    if (blank != std::string::npos && unit != std::string::npos) {
        const std::string word = t.substr(unit);
        std::string number = t.substr(0, unit);
        while (!number.empty() && number.back() == ' ') number.pop_back();
        if (word == "AWG")
            for (const auto& g : wire_gauges())
                if (number == g.gauge) return g.area;
        if (word == "mm2")
            if (const auto area = parse_decimal(number); area && *area > 0) return area;
    }
    b.reading.error("wire-size", text.pointer, text.place, quoted(t) + " is not a wire size",
                    "sizes are in mm2, or in AWG: 24, 22 ... 8, 6, 4, 3, 2, 1, 0, 00, 000, 0000",
                    R"(write "1.5 mm2" or "16 AWG")");
    return std::nullopt;
}

}  // namespace lanyard::model
