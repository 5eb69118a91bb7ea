// Cross-sections of conductors. ASTM B258 defines the diameter of gauge n as 0.127 mm * 92^((36 - n) / 39), with 00 as
// n = -1 and so on; the areas are those of that formula, rounded to four digits. A run of cable is never thicker than
// its gauge by that rounding in any way that matters to a rule of thumb.
#include "model/wire_gauge.hpp"

#include <algorithm>

namespace lanyard::model {

namespace {

struct Row {
    const char* gauge;
    const char* area;
};
constexpr Row rows[] = {{"24", "0.2047"}, {"22", "0.3255"}, {"20", "0.5176"}, {"18", "0.8230"}, {"16", "1.309"},
                        {"14", "2.081"},  {"12", "3.309"},  {"10", "5.261"},  {"8", "8.366"},   {"6", "13.30"},
                        {"4", "21.15"},   {"3", "26.67"},   {"2", "33.63"},   {"1", "42.41"},   {"0", "53.48"},
                        {"00", "67.43"},  {"000", "85.03"}, {"0000", "107.2"}};

}  // namespace

const std::vector<WireGauge>& wire_gauges() {
    static const std::vector<WireGauge> table = [] {
        std::vector<WireGauge> all;
        for (const auto& r : rows) all.push_back({r.gauge, *parse_decimal(r.area)});
        return all;
    }();
    return table;
}

const Rational& gauge_area(const std::string& gauge) {
    const auto& all = wire_gauges();
    return std::find_if(all.begin(), all.end(), [&](const WireGauge& g) { return g.gauge == gauge; })->area;
}

}  // namespace lanyard::model
