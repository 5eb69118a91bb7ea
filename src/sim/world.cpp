// Choosing goes the way of a scan: switches, quantities, readings, then - with the machine's logic played on a copy -
// contacts and loads, then the engine's move. Everything that stands in the model as an interval is met by
// construction. Conditions are arbitrary expressions: their plain conjuncts (a switch, a bound of a quantity) are met
// by construction, the rest is tried, first with what is wished and then with other values near the points where the
// model's comparisons turn. So a proposal may be missed where one exists; a proposal that is made is always legal,
// because the interpreter plays it first.
// Tested by: tests/sim/world_test.cpp
#include "sim/world.hpp"

#include "sim/chooser.hpp"

namespace lanyard::sim {

Wish::Wish(const Model& m) { give_entries(*this, Chosen(m)); }

Wish::Wish(const Model& m, const Choices& all) : Wish(m) {
    const auto wish = [](auto& to, const auto& from) {
        for (const auto i : from.ids()) to[i] = from[i];
    };
    each_choice(wish, *this, all);
    booted = all.booted;
    engine = all.next_mode;
    claim_moves_on = all.claim_moves_on;
}

namespace {

// A conjunct that a condition holds at every scan.
template <class F>
void each_conjunct(const ExprPtr& e, const F& f) {
    if (e->op != Op::and_) return f(*e);
    for (const auto& a : e->args) each_conjunct(a, f);
}

}  // namespace

World::World(const Model& model, ConditionId condition, ClaimId claim) : model_(model), points_(turning_points(model)) {
    const auto add = [&](ConditionId which) {
        const Condition& c = model.conditions[which];
        held_.emplace(&c, held_by(c));
    };
    add(condition);
    const ConditionId before = claim ? model.claims[claim].reached_under : ConditionId{};
    if (before) add(before);
}

World::Held World::held_by(const Condition& condition) const {
    Held out;
    out.positions.resize(model_.switches.size());
    const auto hold = [&](const Expr& e, bool on) {
        if (e.op != Op::signal || model_.signal(e.signal).kind != SignalKind::position) return;
        out.positions[model_.signal(e.signal).index] = on;
    };
    for (const auto& holds : condition.holds) {
        each_conjunct(holds, [&](const Expr& e) {
            hold(e, true);
            if (e.op == Op::not_) hold(*e.args[0], false);
            for (const auto& h : half_lines(model_, e)) out.lines.push_back(h);
        });
    }
    return out;
}

Proposal World::attempt(const Interpreter& now, const Wish& wish) const {
    Proposal p;
    const Held& held = held_.at(now.machine().part().condition);
    Choices c = Chooser(model_, now.machine(), wish).choose(held.positions, held.lines);
    p.after = std::make_unique<Interpreter>(now);
    p.scan = p.after->step(c);
    p.why_not = p.scan.broken_rule;
    if (p.why_not.empty()) p.choices = std::move(c);
    return p;
}

// First one thing after the other, then several at once.
Wish World::varied(const Wish& wish, std::size_t attempt, Dice& dice) const {
    Wish w = wish;
    if (const SwitchId one(attempt); w.positions.has(one)) {
        w.positions[one] = !w.positions[one].value_or(false);
        return w;
    }
    for (auto& position : w.positions) {
        if (dice.one_in(4)) position = dice.one_in(2);
    }
    for (const QuantityId q : w.quantities.ids()) {
        if (dice.one_in(2) && !points_[q].empty()) w.quantities[q] = dice.pick(points_[q]);
    }
    if (dice.one_in(4)) w.engine = all_modes[dice.below(mode_count)];
    if (dice.one_in(4)) w.contacts.assign(w.contacts.size(), dice.one_in(2));
    return w;
}

Proposal World::propose(const Interpreter& now, const Wish& wish,
                        const std::function<bool(const Choices&)>& fits) const {
    const auto good = [&fits](const Proposal& p) { return p.choices && (!fits || fits(*p.choices)); };
    Proposal first = attempt(now, wish);
    if (good(first)) return first;
    constexpr std::size_t attempts = 200;
    Dice dice(1);
    for (std::size_t k = 0; k < attempts; ++k) {
        Proposal p = attempt(now, varied(wish, k, dice));
        if (good(p)) return p;
    }
    first.choices.reset();
    return first;
}

void append(Run& run, const Choices& choices) {
    if (!run.segments.empty() && run.segments.back().first == choices) {
        ++run.segments.back().scans;
        return;
    }
    Segment s;
    s.first = choices;
    run.segments.push_back(std::move(s));
}

}  // namespace lanyard::sim
