// 33 CFR 183.425, table 5, column for insulation of 105 degC, and note 1: 0.85 of it in engine spaces (read in copies
// of the regulation). A size between two rows is taken for the thinner one: it is never thinner than that. Below the
// first row, 18 AWG, a wire is taken for 18 AWG: it may carry less, so what is found is true and something may be
// missed.
#include "circuit/ampacity.hpp"

#include <algorithm>

#include "model/wire_gauge.hpp"

namespace lanyard::circuit {

namespace {

struct Row {
    const char* gauge;
    int amps;
};
constexpr Row table_5[] = {{"18", 20}, {"16", 25}, {"14", 35},  {"12", 45},   {"10", 60},
                           {"8", 80},  {"6", 120}, {"4", 160},  {"3", 180},   {"2", 210},
                           {"1", 245}, {"0", 285}, {"00", 330}, {"000", 385}, {"0000", 445}};

struct Rated {
    Rational gauge;  // mm2
    Rational amps;
    std::string name;
};

const std::vector<Rated>& usual_table() {
    static const std::vector<Rated> table = [] {
        std::vector<Rated> all;
        for (const auto& r : table_5) all.push_back({gauge_area(r.gauge), r.amps, std::string(r.gauge) + " AWG"});
        return all;
    }();
    return table;
}

std::vector<Rated> table_of(const Circuit& c) {
    if (c.wire_table.empty()) return usual_table();
    std::vector<Rated> all;
    for (const auto& r : c.wire_table) all.push_back({r.gauge, r.amps, exact_text(r.gauge) + " mm2"});
    return all;
}

}  // namespace

std::optional<Ampacity> ampacity_of(const Circuit& c, const Branch& wire) {
    if (wire.kind != BranchKind::wire || !wire.gauge) return std::nullopt;
    const std::vector<Rated> table = table_of(c);
    const auto thicker =
        std::find_if(table.begin(), table.end(), [&](const Rated& r) { return r.gauge > *wire.gauge; });
    if (thicker == table.begin() && !c.wire_table.empty()) return std::nullopt;
    const Rated& row = thicker == table.begin() ? table.front() : *(thicker - 1);
    Ampacity out{row.amps, exact_text(*wire.gauge) + " mm2"};
    if (row.gauge != *wire.gauge)
        out.words += ", taken as " + row.name;
    else if (c.wire_table.empty())
        out.words = row.name;
    if (wire.in_engine_space) {
        out.amps *= Rational(17, 20);
        out.words += ", in the engine space";
    }
    return out;
}

std::optional<Rational> permitted_fuse(const Circuit& c, const Ampacity& wire) {
    if (!c.wire_table.empty()) return std::nullopt;
    return Rational(wire.amps * Rational(3, 2));
}

}  // namespace lanyard::circuit
