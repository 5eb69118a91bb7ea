#include "encode/claim_monitor.hpp"

#include <algorithm>

#include "claims/bounds.hpp"

namespace lanyard::encode {

void ClaimMonitor::watch() {
    if (!claim_) return;
    if (const auto* a = std::get_if<Always>(&claim_->body)) {
        s_.bad() = !boolean(*a->body);
        if (a->body->op == Op::implies) s_.demand() = boolean(*a->body->args[0]);
    } else if (const auto* r = std::get_if<Response>(&claim_->body)) {
        const z3::expr p = boolean(*r->whenever), q = boolean(*r->then);
        if (r->manner == Manner::while_it_lasts) response(*r, p, q);
        if (r->manner == Manner::once_begun) response_once(*r, p, q);
        if (r->manner == Manner::in_total) response_in_total(*r, p, q);
    } else if (const auto* p = std::get_if<Possible>(&claim_->body)) {
        s_.bad() = boolean(*p->body);
    } else if (const auto* l = std::get_if<ChangeLimit>(&claim_->body)) {
        change_limit(*l);
    } else if (const auto* goal = std::get_if<Recoverable>(&claim_->body)) {
        recoverable(*goal);
    } else {
        procedure(std::get<Procedure>(claim_->body));
    }
    s_.add_output(s_.bad());
    s_.add_output(s_.demand());
}

z3::expr ClaimMonitor::moves_on() {
    const z3::expr choice = s_.choice({StateRole::moves_on, Whole::claim});
    s_.readback().claim_moves_on = choice;
    return choice;
}

void ClaimMonitor::response(const Response& r, const z3::expr& p, const z3::expr& q) {
    if (response_is_too_fast(r, m_.scan)) {
        s_.bad() = s_.demand() = p;
        return;
    }
    RunClock& m = clock(StateRole::count, p);
    s_.demand() = s_.at_least(m, response_bound(r, m_.scan));
    s_.bad() = s_.demand() && !q;
}

// `age` counts the scans in which p could have called, or has called, for a q that has not come: once p has held long
// enough it is owed, whatever p does then.
void ClaimMonitor::response_once(const Response& r, const z3::expr& p, const z3::expr& q) {
    RunClock& held = clock(StateRole::count, p);
    const long calls = response_calls(r, m_.scan);
    s_.demand() = s_.at_least(held, calls);
    if (response_is_too_fast(r, m_.scan)) {
        s_.bad() = s_.demand();
        return;
    }
    const z3::expr owed = bit(StateRole::owed);
    RunClock& age = clock(StateRole::age, !q && (p || owed));
    const z3::expr now = (owed && !q) || s_.at_least(age, calls);
    s_.state_next(owed, now);
    s_.bad() = now && s_.at_least(age, response_bound(r, m_.scan));
}

// True in the scans of one window, which begins where the claim's choice says so and `may_begin` lets it.
z3::expr ClaimMonitor::in_window(const z3::expr& may_begin, long scans) {
    const z3::expr choice = moves_on();
    const z3::expr watched = bit(StateRole::watched);
    const z3::expr now = watched || (may_begin && choice);
    s_.state_next(watched, now);
    RunClock& window = clock(StateRole::window, now);
    return now && !s_.at_least(window, scans + 1);
}

void ClaimMonitor::response_in_total(const Response& r, const z3::expr& p, const z3::expr& q) {
    const z3::expr counts = in_window(p, total_window(r, m_.scan)) && p;
    RunClock& total = clock(StateRole::total, counts);
    total.holds = !counts;
    s_.demand() = s_.at_least(total, response_calls(r, m_.scan));
    if (response_is_too_fast(r, m_.scan)) {
        s_.bad() = s_.demand();
        return;
    }
    const z3::expr owed = bit(StateRole::owed);
    const z3::expr open = !q && (s_.demand() || owed);
    s_.state_next(owed, open);
    RunClock& age = clock(StateRole::age, open);
    s_.bad() = s_.at_least(age, response_bound(r, m_.scan));
}

void ClaimMonitor::change_limit(const ChangeLimit& l) {
    const z3::expr value = boolean(*l.body);
    const z3::expr before = bit(StateRole::before);
    s_.state_next(before, value);
    const z3::expr change = conditions_.begun() && value != before;
    const z3::expr counts = in_window(change, change_window(l, m_.scan)) && change;
    const z3::expr count = s_.state({StateRole::changes, Whole::claim}, integer(0), "claim");
    const z3::expr too_many = integer(l.at_most + 1);
    s_.saturates_at(count, l.at_most + 1);
    s_.state_next(count, z3::ite(counts && count < too_many, count + 1, count));
    s_.bad() = counts && count + 1 >= too_many;
}

void ClaimMonitor::set_switches() {
    if (!claim_) return;
    const auto* steps = std::get_if<Procedure>(&claim_->body);
    const auto* goal = std::get_if<Recoverable>(&claim_->body);
    if (steps) driver(*steps);
    if (goal) {
        Indexed<Switch, bool> still;
        for (const bool may : goal->may_move) still.push_back(!may);
        untouched(still);
    }
}

// In the second part these switches stay where they were.
void ClaimMonitor::untouched(const Indexed<Switch, bool>& which) {
    for (const SwitchId i : which.ids()) {
        if (!which[i]) continue;
        const SignalId position = m_.switches[i].position;
        const z3::expr was = s_.state({StateRole::was, position}, truth(false), "claim");
        const z3::expr now = z3::ite(*second_, was, s_.choice({StateRole::value, position}));
        s_.state_next(was, now);
        world_.set(i, now);
    }
}

void ClaimMonitor::recoverable(const Recoverable& r) {
    const z3::expr choice = moves_on();
    s_.state_next(*second_, *second_ || choice);
    z3::expr reached = *second_ && boolean(*r.body);
    if (r.within) {
        RunClock& time = clock(StateRole::time, *second_);
        reached = reached && !s_.at_least(time, s_.down(*r.within) + 1);
    }
    s_.bad() = reached;
    s_.demand() = *second_;
}

// The driver's state: which step, whether its `until` has been seen, and the clocks of both. The switches follow
// from the step, so this comes before anything that reads a switch.
void ClaimMonitor::driver(const Procedure& p) {
    const z3::expr step = s_.state({StateRole::step, Whole::claim}, integer(0), "claim");
    s_.saturates_at(step, std::ssize(p.phases));
    for (const SwitchId i : m_.switches.ids()) {
        if (p.untouched.has(i) && p.untouched[i]) continue;
        z3::expr on = s_.part(m_.name_of(m_.switches[i].position), truth(p.rest[i]));
        for (long number = 0; const Phase& phase : p.phases) {
            if (phase.positions[i] != p.rest[i]) on = z3::ite(step == integer(number), truth(phase.positions[i]), on);
            ++number;
        }
        if (second_) on = z3::ite(*second_, on, s_.choice({StateRole::value, m_.switches[i].position}));
        world_.set(i, on);
    }
    if (second_) untouched(p.untouched);
}

// What a playbook says of the world.
void ClaimMonitor::world_of_step(const Phase& phase, const z3::expr& here, const std::string& name) {
    for (const auto& [which, value] : phase.world)
        s_.rule(name, z3::implies(here, s_.inside(world_.quantity(which), {value, value})));
    if (!phase.nobody_cranks || !m_.engine) return;
    const auto& [high, low] = engine_.next_bits();
    const LoadId load = m_.engine->cranks_with;
    const z3::expr starter = load ? meaning_.signal(m_.loads[load].signal) : truth(false);
    s_.rule(name, z3::implies(here && !high && low, starter));
}

void ClaimMonitor::procedure(const Procedure& p) {
    const z3::expr step = s_.existing({StateRole::step, Whole::claim});
    const z3::expr heard = bit(StateRole::heard);
    const z3::expr seen = bit(StateRole::seen);
    const z3::expr choice = moves_on();
    const long count = std::ssize(p.phases);
    const z3::expr on = second_.value_or(truth(true));
    if (second_) s_.state_next(*second_, *second_ || (choice && boolean(*p.from)));
    RunClock& time = clock(StateRole::in_step, second_ ? on && step < integer(count) : step < integer(count));

    z3::expr ends = truth(false), hears = truth(false);
    for (long number = 0; const Phase& phase : p.phases) {
        z3::expr here = step == integer(number);
        ++number;
        const std::string name = "claim.step" + std::to_string(number);
        if (second_) here = on && here;
        z3::expr over = s_.at_least(time, std::max(1L, s_.up(phase.limit)));
        if (phase.until) {
            const z3::expr hears_here = here && (heard || meaning_.boolean(*phase.until, {name, false}));
            const StateKey key{StateRole::reacts, Whole::claim, static_cast<std::size_t>(number)};
            RunClock& reacts = s_.clock(key, "claim", hears_here, false);
            over = over || s_.at_least(reacts, s_.up(phase.reaction.hi) + 1) ||
                   (s_.at_least(reacts, s_.down(phase.reaction.lo) + 1) && choice);
            hears = hears || hears_here;
            reacts.resets = here && over;
        }
        ends = ends || (here && over);
        world_of_step(phase, here, "playbook: step " + std::to_string(number));
    }
    time.resets = ends;
    s_.state_next(heard, hears && !ends);
    s_.state_next(step, z3::ite(ends, step + 1, step));
    const z3::expr counts = p.any_time ? on : second_ ? on && step >= integer(count - 1) : step >= integer(count - 1);
    const z3::expr seen_now = seen || (counts && boolean(*p.goal));
    s_.state_next(seen, seen_now);
    if (p.within) {
        RunClock& clock_of_run = clock(StateRole::time, on);
        s_.demand() = s_.at_least(clock_of_run, s_.down(*p.within) + 1);
    } else {
        s_.demand() = step == integer(count);
    }
    s_.bad() = s_.demand() && !seen_now;
}

}  // namespace lanyard::encode
