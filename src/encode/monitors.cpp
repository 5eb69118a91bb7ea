// Claims as monitors: state that watches a run and tells when the claim is broken.
#include <algorithm>

#include "claims/bounds.hpp"
#include "encode/encoder.hpp"

namespace lanyard {

void Encoder::monitor() {
    if (!claim_) return;
    const Claim& claim = m_.claims[claim_];
    const Owner who{"claim", false};
    if (const auto* a = std::get_if<Always>(&claim.body)) {
        bad() = !boolean(*a->body, who);
        if (a->body->op == Op::implies) demand() = boolean(*a->body->args[0], who);
    } else if (const auto* r = std::get_if<Response>(&claim.body)) {
        if (r->manner == Manner::while_it_lasts) response(*r);
        if (r->manner == Manner::once_begun) response_once(*r);
        if (r->manner == Manner::in_total) response_in_total(*r);
    } else if (const auto* p = std::get_if<Possible>(&claim.body)) {
        bad() = boolean(*p->body, who);
    } else if (const auto* l = std::get_if<ChangeLimit>(&claim.body)) {
        change_limit(*l);
    } else if (const auto* goal = std::get_if<Recoverable>(&claim.body)) {
        recoverable(*goal);
    } else {
        procedure(std::get<Procedure>(claim.body));
    }
    add_output(bad());
    add_output(demand());
}

void Encoder::response(const Response& r) {
    const Owner who{"claim", false};
    const z3::expr p = boolean(*r.whenever, who);
    const z3::expr q = boolean(*r.then, who);
    if (response_is_too_fast(r, m_.scan)) {
        bad() = demand() = p;
        return;
    }
    RunClock& m = clock({StateRole::count, Whole::claim}, "claim", p, false);
    demand() = at_least(m, response_bound(r, m_.scan));
    bad() = demand() && !q;
}

// `age` counts the scans in which p could have called, or has called, for a q that has not come: once p has held long
// enough it is owed, whatever p does then.
void Encoder::response_once(const Response& r) {
    const Owner who{"claim", false};
    const z3::expr p = boolean(*r.whenever, who);
    const z3::expr q = boolean(*r.then, who);
    RunClock& held = clock({StateRole::count, Whole::claim}, "claim", p, false);
    const long calls = response_calls(r, m_.scan);
    demand() = at_least(held, calls);
    if (response_is_too_fast(r, m_.scan)) {
        bad() = demand();
        return;
    }
    const z3::expr owed = state({StateRole::owed, Whole::claim}, truth(false), "claim");
    RunClock& age = clock({StateRole::age, Whole::claim}, "claim", !q && (p || owed), false);
    const z3::expr now = (owed && !q) || at_least(age, calls);
    state_next(owed, now);
    bad() = now && at_least(age, response_bound(r, m_.scan));
}

// True in the scans of one window, which begins where the claim's choice says so and `may_begin` lets it.
z3::expr Encoder::in_window(const z3::expr& may_begin, long scans) {
    const z3::expr choice = input({StateRole::moves_on, Whole::claim}, ctx_.bool_sort());
    readback().claim_moves_on = choice;
    const z3::expr watched = state({StateRole::watched, Whole::claim}, truth(false), "claim");
    const z3::expr now = watched || (may_begin && choice);
    state_next(watched, now);
    RunClock& window = clock({StateRole::window, Whole::claim}, "claim", now, false);
    return now && !at_least(window, scans + 1);
}

void Encoder::response_in_total(const Response& r) {
    const Owner who{"claim", false};
    const z3::expr p = boolean(*r.whenever, who);
    const z3::expr q = boolean(*r.then, who);
    const z3::expr counts = in_window(p, total_window(r, m_.scan)) && p;
    RunClock& total = clock({StateRole::total, Whole::claim}, "claim", counts, false);
    total.holds = !counts;
    demand() = at_least(total, response_calls(r, m_.scan));
    if (response_is_too_fast(r, m_.scan)) {
        bad() = demand();
        return;
    }
    const z3::expr owed = state({StateRole::owed, Whole::claim}, truth(false), "claim");
    const z3::expr open = !q && (demand() || owed);
    state_next(owed, open);
    RunClock& age = clock({StateRole::age, Whole::claim}, "claim", open, false);
    bad() = at_least(age, response_bound(r, m_.scan));
}

void Encoder::change_limit(const ChangeLimit& l) {
    const z3::expr value = boolean(*l.body, {"claim", false});
    const z3::expr before = state({StateRole::before, Whole::claim}, truth(false), "claim");
    state_next(before, value);
    const z3::expr change = conditions_.begun() && value != before;
    const z3::expr counts = in_window(change, change_window(l, m_.scan)) && change;
    const z3::expr count = state({StateRole::changes, Whole::claim}, integer(0), "claim");
    const z3::expr too_many = integer(l.at_most + 1);
    saturates_at(count, l.at_most + 1);
    state_next(count, z3::ite(counts && count < too_many, count + 1, count));
    bad() = counts && count + 1 >= too_many;
}

// The switches that the claim moves, or holds still.
void Encoder::positions() {
    const Claim& claim = m_.claims[claim_];
    const auto* steps = std::get_if<Procedure>(&claim.body);
    const auto* goal = std::get_if<Recoverable>(&claim.body);
    if (steps) procedure_driver(*steps);
    if (goal) {
        Indexed<Switch, bool> still;
        for (const bool may : goal->may_move) still.push_back(!may);
        untouched(still);
    }
}

// In the second part these switches stay where they were.
void Encoder::untouched(const Indexed<Switch, bool>& which) {
    for (const SwitchId i : which.ids()) {
        if (!which[i]) continue;
        const SignalId position = m_.switches[i].position;
        const z3::expr was = state({StateRole::was, position}, truth(false), "claim");
        const z3::expr now = z3::ite(*second(), was, input({StateRole::value, position}, ctx_.bool_sort()));
        state_next(was, now);
        world_.set(i, now);
    }
}

void Encoder::recoverable(const Recoverable& r) {
    const z3::expr choice = input({StateRole::moves_on, Whole::claim}, ctx_.bool_sort());
    readback().claim_moves_on = choice;
    state_next(*second(), *second() || choice);
    z3::expr reached = *second() && boolean(*r.body, {"claim", false});
    if (r.within) {
        RunClock& time = clock({StateRole::time, Whole::claim}, "claim", *second(), false);
        reached = reached && !at_least(time, down(*r.within) + 1);
    }
    bad() = reached;
    demand() = *second();
}

// The driver's state: which step, whether its `until` has been seen, and the clocks of both. The switches follow
// from the step, so this comes before anything that reads a switch.
void Encoder::procedure_driver(const Procedure& p) {
    const z3::expr step = state({StateRole::step, Whole::claim}, integer(0), "claim");
    saturates_at(step, std::ssize(p.phases));
    for (const SwitchId i : m_.switches.ids()) {
        if (p.untouched.has(i) && p.untouched[i]) continue;
        z3::expr on = part(m_.name_of(m_.switches[i].position), truth(p.rest[i]));
        for (long number = 0; const Phase& phase : p.phases) {
            if (phase.positions[i] != p.rest[i]) on = z3::ite(step == integer(number), truth(phase.positions[i]), on);
            ++number;
        }
        if (second()) on = z3::ite(*second(), on, input({StateRole::value, m_.switches[i].position}, ctx_.bool_sort()));
        world_.set(i, on);
    }
    if (second()) untouched(p.untouched);
}

// What a playbook says of the world.
void Encoder::world_of_step(const Phase& phase, const z3::expr& here, const std::string& name) {
    for (const auto& [which, value] : phase.world)
        rule(name, z3::implies(here, inside(world_.quantity(which), {value, value})));
    if (!phase.nobody_cranks || !m_.engine) return;
    const auto& [high, low] = engine_.next_bits();
    const LoadId load = m_.engine->cranks_with;
    const z3::expr starter = load ? signal(m_.loads[load].signal) : truth(false);
    rule(name, z3::implies(here && !high && low, starter));
}

void Encoder::procedure(const Procedure& p) {
    const Owner who{"claim", false};
    const z3::expr step = existing({StateRole::step, Whole::claim});
    const z3::expr heard = state({StateRole::heard, Whole::claim}, truth(false), "claim");
    const z3::expr seen = state({StateRole::seen, Whole::claim}, truth(false), "claim");
    const z3::expr choice = input({StateRole::moves_on, Whole::claim}, ctx_.bool_sort());
    readback().claim_moves_on = choice;
    const long count = std::ssize(p.phases);
    const z3::expr on = second().value_or(truth(true));
    if (second()) state_next(*second(), *second() || (choice && boolean(*p.from, {"claim", false})));
    RunClock& time = clock({StateRole::in_step, Whole::claim}, "claim",
                           second() ? on && step < integer(count) : step < integer(count), false);

    z3::expr ends = truth(false), hears = truth(false);
    for (long number = 0; const Phase& phase : p.phases) {
        z3::expr here = step == integer(number);
        ++number;
        const std::string name = "claim.step" + std::to_string(number);
        if (second()) here = on && here;
        z3::expr over = at_least(time, std::max(1L, up(phase.limit)));
        if (phase.until) {
            const z3::expr hears_here = here && (heard || boolean(*phase.until, {name, false}));
            const StateKey key{StateRole::reacts, Whole::claim, static_cast<std::size_t>(number)};
            RunClock& reacts = clock(key, "claim", hears_here, false);
            over = over || at_least(reacts, up(phase.reaction.hi) + 1) ||
                   (at_least(reacts, down(phase.reaction.lo) + 1) && choice);
            hears = hears || hears_here;
            reacts.resets = here && over;
        }
        ends = ends || (here && over);
        world_of_step(phase, here, "playbook: step " + std::to_string(number));
    }
    time.resets = ends;
    state_next(heard, hears && !ends);
    state_next(step, z3::ite(ends, step + 1, step));
    const z3::expr counts = p.any_time ? on : second() ? on && step >= integer(count - 1) : step >= integer(count - 1);
    const z3::expr seen_now = seen || (counts && boolean(*p.goal, who));
    state_next(seen, seen_now);
    if (p.within) {
        RunClock& clock_of_run = clock({StateRole::time, Whole::claim}, "claim", on, false);
        demand() = at_least(clock_of_run, down(*p.within) + 1);
    } else {
        demand() = step == integer(count);
    }
    bad() = demand() && !seen_now;
}

}  // namespace lanyard
