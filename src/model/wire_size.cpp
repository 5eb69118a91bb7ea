// Cross-sections of conductors. American wire gauge: areas in mm2 from the table of ASTM B258 (nominal diameters of
// round wires), rounded to four digits, from memory. A run of cable is never thicker than its gauge by that rounding
// in any way that matters to a rule of thumb.
#include <array>
#include <string_view>

#include "model/wiring.hpp"

namespace lanyard {

namespace {

struct Gauge {
    const char* gauge;
    const char* area;
};
constexpr std::array<Gauge, 14> gauges{{{"24", "0.2047"},
                                        {"22", "0.3255"},
                                        {"20", "0.5176"},
                                        {"18", "0.8230"},
                                        {"16", "1.309"},
                                        {"14", "2.081"},
                                        {"12", "3.309"},
                                        {"10", "5.261"},
                                        {"8", "8.366"},
                                        {"6", "13.30"},
                                        {"4", "21.15"},
                                        {"2", "33.62"},
                                        {"1", "42.41"},
                                        {"0", "53.49"}}};

}  // namespace

std::optional<Rational> wire_size(Build& b, const LocatedText& text) {
    const std::string& t = text.text;
    const std::size_t blank = t.find_last_of(" 0123456789");
    const std::size_t unit = t.find_first_not_of(" 0123456789.");
    if (blank != std::string::npos && unit != std::string::npos) {
        const std::string word = t.substr(unit);
        std::string number = t.substr(0, unit);
        while (!number.empty() && number.back() == ' ') number.pop_back();
        if (word == "AWG")
            for (const auto& g : gauges)
                if (number == g.gauge) return parse_decimal(g.area);
        if (word == "mm2")
            if (const auto area = parse_decimal(number); area && *area > 0) return area;
    }
    b.reading.error("wire-size", text.pointer, text.place, quoted(t) + " is no size of a wire",
                    "sizes are in mm2, or in AWG: 24, 22 ... 8, 6, 4, 2, 1, 0", R"(write "1.5 mm2" or "16 AWG")");
    return std::nullopt;
}

}  // namespace lanyard
