#include "card/goals.hpp"

#include <algorithm>
#include <set>

#include "sim/landmarks.hpp"

namespace lanyard::card {

namespace {

std::vector<Rational> thresholds_of(const Points& points, const BenchInput& in) {
    const Model& m = points.bench.model;
    std::set<Rational> found;
    const auto look = [&](const ExprPtr& e) {
        if (!e) return;
        visit(e, [&](const Expr& x) {
            if (x.args.size() != 2 || x.args[0]->type.kind != TypeKind::number) return;
            for (const auto& h : sim::half_lines(m, x))
                if (h.quantity == in.index) found.insert(h.point);
        });
    };
    look(m.supply.on);
    for (const SignalId id : m.order) look(definition(m, id));
    for (const auto& s : m.circuit.sources) look(s.live);
    if (m.circuit.voltage == in.index)
        for (const auto& r : m.relays)
            for (const auto& x : {r.operates_at, r.releases_at})
                if (x) found.insert(*x);
    return {found.begin(), found.end()};
}

std::vector<Rational> values_between(const Points& points, const BenchInput& in) {
    const Model& m = points.bench.model;
    const Interval& range = m.quantities[in.index].range;
    std::vector<Rational> ends{range.lo};
    for (const auto& t : thresholds_of(points, in))
        if (range.lo < t && t < range.hi) ends.push_back(t);
    ends.push_back(range.hi);
    std::vector<Rational> out;
    for (std::size_t k = 0; k + 1 < ends.size(); ++k) {
        const bool rests_here = ends[k] <= in.rests_at && in.rests_at < ends[k + 1];
        out.push_back(rests_here ? in.rests_at : round_number(m, in.of, ends[k], ends[k + 1]));
    }
    return out;
}

// A little beside the threshold, but not beyond the next one.
Rational step_beside(const Points& points, const Comparison& c) {
    const BenchInput& in = points.bench.inputs[c.input];
    Rational step = in.step;
    const auto all = thresholds_of(points, in);
    for (const Rational& a : {c.on, c.off})
        for (const auto& t : all)
            if (t != a) step = std::min(step, Rational(abs(t - a) / 2));
    return step;
}

// Going up to where it turns on, through it, and back to where it turns off.
void add_levels(const Points& points, ComparisonId item, bool inside, std::vector<Goal>& goals) {
    const Comparison& c = points.comparisons[item];
    if (!c.input) return;
    const BenchInput& in = points.bench.inputs[c.input];
    const Interval& range = points.bench.model.quantities[in.index].range;
    const Rational little = step_beside(points, c), forward = c.above ? little : Rational(-little);
    const auto add = [&](GoalKind kind, const Rational& x, bool expected) {
        if ((range.lo <= x && x <= range.hi) != inside) return;
        goals.push_back({kind, item, 0, x, expected, c.value});
    };
    add(GoalKind::level, c.on - forward, false);
    add(GoalKind::level, c.on, !c.strict_on);
    add(GoalKind::level, c.on + forward, true);
    if (!c.has_band) {
        add(GoalKind::comes_back, c.strict_on ? c.on : Rational(c.on - forward), false);
        return;
    }
    add(GoalKind::level, c.off + forward, true);
    add(GoalKind::level, c.off, c.strict_off);
    add(GoalKind::comes_back, c.off - forward, false);
}

Goal of_latch(const Points& points, MemoryId item, GoalKind kind) {
    const Memory& m = points.memories[item];
    Goal g{kind, item, 0, {}, false, m.value};
    // That a latch lets go is seen when the reset is what is turned over.
    const Expr& reset = *m.is->args[1];
    if (kind == GoalKind::resets && reset.op == Op::signal && points.flips.contains(reset.signal))
        g.point = reset.signal;
    return g;
}

// A reset that never comes is none.
void add_latch(const Points& points, MemoryId item, std::vector<Goal>& goals) {
    const Memory& m = points.memories[item];
    const Expr& reset = *m.is->args[1];
    goals.push_back(of_latch(points, item, GoalKind::holds));
    if (points.bench.model.may_lose_power())
        goals.push_back(of_latch(points, item, m.retained ? GoalKind::keeps : GoalKind::forgets));
    if (reset.op != Op::truth || reset.flag) goals.push_back(of_latch(points, item, GoalKind::resets));
}

}  // namespace

bool is_of_latch(GoalKind kind) {
    return kind == GoalKind::holds || kind == GoalKind::resets || kind == GoalKind::keeps || kind == GoalKind::forgets;
}
bool is_of_comparison(GoalKind kind) { return kind == GoalKind::level || kind == GoalKind::comes_back; }

Indexed<BenchInput, std::vector<Rational>> values_of(const Points& points) {
    Indexed<BenchInput, std::vector<Rational>> out;
    for (const auto& in : points.bench.inputs)
        out.push_back(in.is_number() ? values_between(points, in) : std::vector<Rational>());
    return out;
}

std::vector<Goal> plain_goals(const Points& points) {
    std::vector<Goal> goals;
    for (const ComparisonId k : points.comparisons.ids()) add_levels(points, k, true, goals);
    for (const MemoryId k : points.memories.ids()) {
        const Memory& m = points.memories[k];
        if (is_latch(m.is->op)) {
            add_latch(points, k, goals);
        } else if (sgn(m.is->value) != 0) {
            goals.push_back({GoalKind::delay, k, 0, {}, false, m.value});
        }
    }
    return goals;
}

std::vector<Goal> levels_outside(const Points& points) {
    std::vector<Goal> goals;
    for (const ComparisonId k : points.comparisons.ids()) add_levels(points, k, false, goals);
    return goals;
}

}  // namespace lanyard::card
