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
    const Interval& range = m.quantities[static_cast<std::size_t>(in.index)].range;
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
    const BenchInput& in = points.bench.inputs[static_cast<std::size_t>(c.input)];
    Rational step = in.step;
    const auto all = thresholds_of(points, in);
    for (const Rational& a : {c.on, c.off})
        for (const auto& t : all)
            if (t != a) step = std::min(step, Rational(abs(t - a) / 2));
    return step;
}

// Going up to where it turns on, through it, and back to where it turns off.
void add_levels(const Points& points, int item, bool inside, std::vector<Goal>& goals) {
    const Comparison& c = points.comparisons[static_cast<std::size_t>(item)];
    if (c.input < 0) return;
    const BenchInput& in = points.bench.inputs[static_cast<std::size_t>(c.input)];
    const Interval& range = points.bench.model.quantities[static_cast<std::size_t>(in.index)].range;
    const Rational little = step_beside(points, c), forward = c.above ? little : Rational(-little);
    const auto add = [&](GoalKind kind, const Rational& x, bool expected) {
        if ((range.lo <= x && x <= range.hi) != inside) return;
        Goal g;
        g.kind = kind;
        g.item = item;
        g.at = x;
        g.expected = expected;
        g.point = c.value;
        goals.push_back(g);
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

bool value_at(const Rest& rest, const Expr& e) { return e.op == Op::truth ? e.flag : rest.is_on(e.signal); }

bool is_latch(const Memory& m) { return m.is->op == Op::sr || m.is->op == Op::rs; }

// On which edge a timer waits: TON before it goes on, the others before they go off.
bool goes_late_to(const Memory& m) { return m.is->op == Op::ton; }

}  // namespace

std::vector<std::vector<Rational>> values_of(const Points& points) {
    std::vector<std::vector<Rational>> out;
    for (const auto& in : points.bench.inputs)
        out.push_back(in.is_number() ? values_between(points, in) : std::vector<Rational>());
    return out;
}

std::vector<Goal> plain_goals(const Points& points) {
    std::vector<Goal> goals;
    for (std::size_t k = 0; k < points.comparisons.size(); ++k) add_levels(points, static_cast<int>(k), true, goals);
    for (std::size_t k = 0; k < points.memories.size(); ++k) {
        Goal g;
        g.item = static_cast<int>(k);
        g.point = points.memories[k].value;
        const bool latch = is_latch(points.memories[k]);
        if (!latch && sgn(points.memories[k].is->value) == 0) continue;
        for (const GoalKind kind : {GoalKind::holds, GoalKind::resets, GoalKind::delay}) {
            if ((kind == GoalKind::delay) == latch) continue;
            g.kind = kind;
            g.point = points.memories[k].value;
            // That a latch lets go is seen when the reset is what is turned over.
            const Expr& reset = latch ? *points.memories[k].is->args[1] : Expr();
            if (kind == GoalKind::resets && reset.op == Op::signal && points.flips.contains(reset.signal))
                g.point = reset.signal;
            goals.push_back(g);
        }
    }
    return goals;
}

std::vector<Goal> levels_outside(const Points& points) {
    std::vector<Goal> goals;
    for (std::size_t k = 0; k < points.comparisons.size(); ++k) add_levels(points, static_cast<int>(k), false, goals);
    return goals;
}

Combination combination_at(const Decision& d, const Rest& rest) {
    Combination v = 0;
    for (std::size_t c = 0; c < d.conditions.size(); ++c)
        v |= static_cast<Combination>(rest.is_on(d.conditions[c])) << c;
    return v;
}

bool brings(const Points& points, const Goal& goal, const Rest& before, const Rest& after) {
    if (!after.legal || !after.rests || !after.is_on(points.bench.model.powered)) return false;
    const auto item = static_cast<std::size_t>(goal.item);
    if (goal.kind == GoalKind::combination) return combination_at(points.decisions[item], after) == goal.combination;
    if (goal.kind == GoalKind::level || goal.kind == GoalKind::comes_back) {
        const Comparison& c = points.comparisons[item];
        const auto q = static_cast<std::size_t>(points.bench.inputs[static_cast<std::size_t>(c.input)].index);
        if (after.set.quantities[q] != goal.at || after.is_on(c.value) != goal.expected) return false;
        return goal.kind == GoalKind::level || before.is_on(c.value) != goal.expected;
    }
    const Memory& m = points.memories[item];
    if (goal.kind == GoalKind::holds)
        return after.is_on(m.value) && !value_at(after, *m.is->args[0]) && !value_at(after, *m.is->args[1]);
    if (goal.kind == GoalKind::resets)
        return before.is_on(m.value) && !after.is_on(m.value) && value_at(after, *m.is->args[1]);
    return late_change(points, goal, after).has_value();
}

std::optional<long> late_change(const Points& points, const Goal& goal, const Rest& after) {
    const Memory& m = points.memories[static_cast<std::size_t>(goal.item)];
    for (const Change& c : after.changes)
        if (c.scan > 0 && c.signal == m.value && std::get<bool>(c.to) == goes_late_to(m)) return c.scan;
    return std::nullopt;
}

Need need_of(const Points& points, const Distance& distance, const Goal& goal, const Rest& here) {
    Need need = distance.to_power(here);
    if (need.cost > 0) return need;
    const auto item = static_cast<std::size_t>(goal.item);
    const auto to = [&](SignalId id, bool value) { need.add(distance.to(here, id, value)); };
    const auto input = [&](const Expr& e, bool value) {
        if (e.op == Op::signal) to(e.signal, value);
    };
    if (goal.kind == GoalKind::combination) {
        const Decision& d = points.decisions[item];
        for (std::size_t c = 0; c < d.conditions.size(); ++c) to(d.conditions[c], (goal.combination >> c & 1U) != 0);
        need.add(distance.to_show(here, d.outcome));
        return need;
    }
    need.add(distance.to_show(here, goal.point));
    if (goal.kind == GoalKind::level || goal.kind == GoalKind::comes_back) {
        const Comparison& c = points.comparisons[item];
        const auto q = static_cast<std::size_t>(points.bench.inputs[static_cast<std::size_t>(c.input)].index);
        const bool as_expected = here.is_on(c.value) == goal.expected;
        if (goal.kind == GoalKind::comes_back && as_expected) {
            to(c.value, !goal.expected);
            need.cost += 1;
            return need;
        }
        if (c.has_band && !as_expected && goal.kind == GoalKind::level && goal.at != (goal.expected ? c.on : c.off)) {
            need.add(distance.to(here, c.value, goal.expected));
        }
        if (here.set.quantities[q] != goal.at) need.add({1, {{c.input, false, goal.at}}});
        return need;
    }
    const Memory& m = points.memories[item];
    const Expr& first = *m.is->args[0];
    if (goal.kind == GoalKind::delay) {
        const bool late = goes_late_to(m), start = m.is->op == Op::tof ? false : true;
        if (here.is_on(m.value) == (m.is->op == Op::tp ? true : late)) to(m.value, !here.is_on(m.value));
        if (need.cost > 0) need.cost += 1;
        if (value_at(here, first) == start)
            input(first, !start), need.cost += 1;
        else
            input(first, start);
        return need;
    }
    if (!here.is_on(m.value)) {
        to(m.value, true);
        need.cost += 1;
        return need;
    }
    input(first, false);
    input(*m.is->args[1], goal.kind == GoalKind::resets);
    return need;
}

}  // namespace lanyard::card
