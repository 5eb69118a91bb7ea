#include "card/brings.hpp"

#include <algorithm>

namespace lanyard::card {

bool value_at(const Rest& rest, const Expr& e) { return e.op == Op::truth ? e.flag : rest.is_on(e.signal); }

bool goes_late_to(const Memory& m) { return m.is->op == Op::ton; }

bool waits_for_power(const Memory& m, const Rest& here) {
    return here.lost_with && std::get<bool>((*here.lost_with)[m.value]);
}

Combination combination_at(const Decision& d, const Rest& rest) {
    Combination v = 0;
    for (std::size_t c = 0; c < d.conditions.size(); ++c)
        v |= static_cast<Combination>(rest.is_on(d.conditions[c])) << c;
    return v;
}

std::optional<Passage> passage(const Points& points, const Goal& goal, const Rest& before, const Rest& after) {
    const Decision& d = points.decisions[goal.item];
    const auto condition = [&](SignalId id) {
        return std::find(d.conditions.begin(), d.conditions.end(), id) - d.conditions.begin();
    };
    Combination now = combination_at(d, before);
    long since = -1;
    std::optional<Passage> out;
    for (const Change& c : after.changes) {
        const auto k = condition(c.signal);
        if (k == std::ssize(d.conditions)) continue;
        const bool longer = !out || c.scan - since > out->to - out->from;
        if (now == goal.combination && since >= 0 && c.scan > since && longer) out = Passage{since, c.scan};
        now = (now & ~(1U << k)) | (static_cast<Combination>(std::get<bool>(c.to)) << k);
        since = c.scan;
    }
    return out;
}

namespace {

// Back with power, and lost by it: what was on then, is that still so, and is nothing there to set or reset it anew?
bool came_through(const Memory& m, SignalId powered, const Rest& before, const Rest& after) {
    if (before.is_on(powered) || !waits_for_power(m, before)) return false;
    for (const auto& input : m.is->args) {
        if (value_at(after, *input)) return false;
        for (const Change& c : after.changes)
            if (input->op == Op::signal && c.signal == input->signal && std::get<bool>(c.to)) return false;
    }
    return true;
}

}  // namespace

bool brings(const Points& points, const Goal& goal, const Rest& before, const Rest& after) {
    if (!after.legal || !after.rests || !after.is_on(points.bench.model.powered)) return false;
    if (goal.passing) return before.is_on(points.bench.model.powered) && passage(points, goal, before, after);
    if (goal.kind == GoalKind::combination)
        return combination_at(points.decisions[goal.item], after) == goal.combination;
    if (is_of_comparison(goal.kind)) {
        const Comparison& c = points.comparisons[goal.item];
        const QuantityId q = points.bench.inputs[c.input].index;
        if (after.set.quantities[q] != goal.at || after.is_on(c.value) != goal.expected) return false;
        return goal.kind == GoalKind::level || before.is_on(c.value) != goal.expected;
    }
    const Memory& m = points.memories[goal.item];
    if (goal.kind == GoalKind::holds)
        return after.is_on(m.value) && !value_at(after, *m.is->args[0]) && !value_at(after, *m.is->args[1]);
    if (goal.kind == GoalKind::resets)
        return before.is_on(m.value) && !after.is_on(m.value) && value_at(after, *m.is->args[1]);
    if (goal.kind == GoalKind::keeps || goal.kind == GoalKind::forgets)
        return came_through(m, points.bench.model.powered, before, after) &&
               after.is_on(m.value) == (goal.kind == GoalKind::keeps);
    return late_change(points, goal, after).has_value();
}

std::optional<long> late_change(const Points& points, const Goal& goal, const Rest& after) {
    const Memory& m = points.memories[goal.item];
    for (const Change& c : after.changes)
        if (c.scan > 0 && c.signal == m.value && std::get<bool>(c.to) == goes_late_to(m)) return c.scan;
    return std::nullopt;
}

}  // namespace lanyard::card
