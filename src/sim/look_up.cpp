#include "sim/evaluate.hpp"

namespace lanyard::sim {

namespace {

// Where a value lies on an axis: between points `low` and `low + 1`, `part` of the way. At and outside the edges
// part is 0 or 1.
struct Spot {
    std::size_t low = 0;
    std::size_t high = 0;
    Rational part = 0;
};

Spot find(const std::vector<Rational>& axis, const Rational& x) {
    Spot s;
    if (axis.empty() || x <= axis.front()) return s;
    if (x >= axis.back()) {
        s.low = s.high = axis.size() - 1;
        return s;
    }
    while (axis[s.low + 1] <= x) ++s.low;
    s.high = s.low + 1;
    s.part = (x - axis[s.low]) / (axis[s.high] - axis[s.low]);
    return s;
}

Rational between(const Rational& a, const Rational& b, const Rational& part) { return a + (b - a) * part; }

}  // namespace

Rational look_up(const Table& table, const Rational& x, const Rational& y) {
    const Spot r = find(table.rows, x);
    const Spot c = find(table.columns, y);
    const auto& low = table.cells[r.low];
    const auto& high = table.cells[r.high];
    return between(between(low[c.low], low[c.high], c.part), between(high[c.low], high[c.high], c.part), r.part);
}

}  // namespace lanyard::sim
