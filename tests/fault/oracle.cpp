#include "oracle.hpp"

#include <algorithm>
#include <cstddef>

namespace lanyard::test {

using namespace fault;

namespace {

using fault::CutSet;

struct Both {
    Function f;
    Table t;
};

fault::CutSet members(std::size_t bits) {
    fault::CutSet out;
    for (std::size_t i = 0; bits >> i; ++i)
        if (bits >> i & 1U) out.push_back(i);
    return out;
}

// All lines that agree with `values` in the events of `mask`.
bool implies(const Table& t, std::size_t mask, std::size_t values) {
    for (std::size_t x = 0; x < t.lines.size(); ++x)
        if ((x & mask) == values && !t.lines[x]) return false;
    return true;
}

bool is_prime(const Table& t, std::size_t mask, std::size_t values) {
    if (!implies(t, mask, values)) return false;
    for (std::size_t i = 0; i < t.events; ++i) {
        const std::size_t bit = std::size_t{1} << i;
        if ((mask & bit) && implies(t, mask & ~bit, values & ~bit)) return false;
    }
    return true;
}

Both some_leaf(Diagrams& s, std::mt19937_64& dice) {
    const auto draw = dice() % (s.events() * 8 + 1);
    Both out{s.constant(draw % 2 == 0), {s.events(), std::vector<bool>(std::size_t{1} << s.events(), draw % 2 == 0)}};
    if (draw == 0) return out;
    const std::size_t i = draw % s.events();
    out.f = s.event(i);
    for (std::size_t x = 0; x < out.t.lines.size(); ++x) out.t.lines[x] = x >> i & 1U;
    return out;
}

template <class F>
Table by_line(const Both& a, const Both& b, const Both& c, F rule) {
    Table out = a.t;
    for (std::size_t x = 0; x < out.lines.size(); ++x) out.lines[x] = rule(a.t.lines[x], b.t.lines[x], c.t.lines[x]);
    return out;
}

Both gate(Diagrams& s, std::mt19937_64& dice, bool negations, const Both& a, const Both& b, const Both& c) {
    switch (dice() % (negations ? 6 : 4)) {
        case 0:
            return {s.conjunction({a.f, b.f}), by_line(a, b, c, [](bool x, bool y, bool) { return x && y; })};
        case 1:
            return {s.disjunction({a.f, b.f}), by_line(a, b, c, [](bool x, bool y, bool) { return x || y; })};
        case 2:
            return {at_least(s, 2, {a.f, b.f, c.f}),
                    by_line(a, b, c, [](bool x, bool y, bool z) { return int{x} + int{y} + int{z} >= 2; })};
        case 3:
            return {s.disjunction({a.f, b.f, c.f}),
                    by_line(a, b, c, [](bool x, bool y, bool z) { return x || y || z; })};
        case 4:
            return {s.negation(a.f), by_line(a, b, c, [](bool x, bool, bool) { return !x; })};
        default:
            return {s.if_then_else(a.f, b.f, c.f), by_line(a, b, c, [](bool x, bool y, bool z) { return x ? y : z; })};
    }
}

}  // namespace

// reached[j]: at least j of the inputs so far.
Function at_least(Diagrams& s, int k, const std::vector<Function>& inputs) {
    if (k <= 0) return s.constant(true);
    if (static_cast<std::size_t>(k) > inputs.size()) return s.constant(false);
    std::vector<Function> reached(static_cast<std::size_t>(k) + 1, s.constant(false));
    reached[0] = s.constant(true);
    for (const Function f : inputs)
        for (std::size_t j = reached.size() - 1; j > 0; --j) reached[j] = s.if_then_else(f, reached[j - 1], reached[j]);
    return reached.back();
}

Table table_of(const Diagrams& s, Function f) {
    Table out{s.events(), std::vector<bool>(std::size_t{1} << s.events())};
    for (std::size_t x = 0; x < out.lines.size(); ++x) {
        Function at = f;
        while (!s.is_constant(at)) at = x >> s.event_of(at) & 1U ? s.on(at) : s.off(at);
        out.lines[x] = at == s.constant(true);
    }
    return out;
}

bool is_monotone(const Table& t) {
    for (std::size_t x = 0; x < t.lines.size(); ++x)
        for (std::size_t i = 0; i < t.events; ++i)
            if (t.lines[x] && !t.lines[x | std::size_t{1} << i]) return false;
    return true;
}

std::vector<Implicant> primes_of(const Table& t) {
    std::vector<Implicant> out;
    for (std::size_t mask = 0; mask < t.lines.size(); ++mask)
        for (std::size_t values = mask;; values = (values - 1) & mask) {
            if (is_prime(t, mask, values)) out.push_back({members(values), members(mask & ~values)});
            if (values == 0) break;
        }
    std::sort(out.begin(), out.end(), [](const Implicant& a, const Implicant& b) {
        const auto size = [](const Implicant& i) { return i.failed.size() + i.works.size(); };
        if (size(a) != size(b)) return size(a) < size(b);
        return std::pair(a.failed, a.works) < std::pair(b.failed, b.works);
    });
    return out;
}

std::vector<fault::CutSet> minimal_lines_of(const Table& t) {
    std::vector<fault::CutSet> out;
    for (std::size_t x = 0; x < t.lines.size(); ++x) {
        bool minimal = t.lines[x];
        for (std::size_t i = 0; i < t.events && minimal; ++i)
            if (x >> i & 1U) minimal = !t.lines[x & ~(std::size_t{1} << i)];
        if (minimal) out.push_back(members(x));
    }
    std::sort(out.begin(), out.end(), [](const fault::CutSet& a, const fault::CutSet& b) {
        return std::pair(a.size(), a) < std::pair(b.size(), b);
    });
    return out;
}

double probability_of(const Table& t, const std::vector<double>& p) {
    double sum = 0;
    for (std::size_t x = 0; x < t.lines.size(); ++x) {
        double line = t.lines[x] ? 1 : 0;
        for (std::size_t i = 0; i < p.size(); ++i) line *= x >> i & 1U ? p[i] : 1 - p[i];
        sum += line;
    }
    return sum;
}

std::pair<Function, Table> random_circuit(Diagrams& s, std::mt19937_64& dice, bool negations) {
    std::vector<Both> pool;
    for (std::size_t i = 0; i < 2 * s.events(); ++i) pool.push_back(some_leaf(s, dice));
    // Rather a late one, so that the circuits become deep.
    const auto any = [&] { return pool[std::max(dice() % pool.size(), dice() % pool.size())]; };
    for (std::size_t k = 0; k < 2 * s.events(); ++k) {
        const Both a = any();
        const Both b = any();
        const Both c = any();
        pool.push_back(gate(s, dice, negations, a, b, c));
    }
    return {pool.back().f, pool.back().t};
}

}  // namespace lanyard::test
