// What it decides: where cells of two-way tables are split when a run of the relaxed system is none of the tables.
// How: at the model's own point, which then lies on lines on which the product is exact - so the same run cannot come
// again - and with all crossings of the new lines and the old ones around them, so that each of the four parts has its
// own convex hull. A point with long numbers is moved to a simpler one nearby.
// Why it is sound: it need not be; every point gives rules that hold (encode/products.cpp).
// When it gives up: it does not; who asks has to count.
// Tested by: tests/cases_run/main.cpp, tests/lies/main.cpp
#include "prove/coarse.hpp"

#include <algorithm>

#include "encode/unroll.hpp"

namespace lanyard::prove {

namespace {

constexpr std::size_t long_number = 12;  // characters

// The fraction with the smallest denominator in [lo, hi], 0 <= lo < hi (Stern-Brocot).
Rational simplest(const Rational& lo, const Rational& hi) {
    const Integer whole = ceil_of(lo);
    if (whole <= hi) return whole;
    const Rational base = floor_of(lo);
    return base + 1 / simplest(1 / (hi - base), 1 / (lo - base));
}

struct Split {
    Rational at;
    std::vector<Rational> lines;  // around it, and itself
};

// Nothing where `at` lies on a line or beyond the last.
std::optional<Split> split(const std::vector<Rational>& lines, const Rational& at, bool halve) {
    const auto above = std::lower_bound(lines.begin(), lines.end(), at);
    if (above == lines.begin() || above == lines.end() || *above == at) return std::nullopt;
    const Rational lo = *(above - 1), hi = *above;
    Rational where = at;
    if (halve) {
        where = (lo + hi) / 2;
    } else if (at.get_str().size() > long_number) {
        const Rational slack = (hi - lo) / 64;
        const Rational left = std::max<Rational>(at - slack, (lo + at) / 2) - lo;
        const Rational right = std::min<Rational>(at + slack, (hi + at) / 2) - lo;
        where = lo + simplest(left, right);
    }
    return Split{where, {lo, where, hi}};
}

}  // namespace

std::vector<Tangent> finer(const System& s, Solver& solver, const Renaming& at, bool halve) {
    std::vector<Tangent> out;
    for (const auto& p : s.products) {
        if (!solver.holds(at(p.used))) continue;
        const auto u = split(p.us, exact(solver.value(at(p.u))), halve);
        const auto v = split(p.vs, exact(solver.value(at(p.v))), halve);
        if (!u || !v) continue;
        for (const auto& r : u->lines)
            for (const auto& c : v->lines) out.push_back({p.name, r, c});
    }
    return out;
}

}  // namespace lanyard::prove
