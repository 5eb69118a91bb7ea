// Claims as monitors: state that watches a run and tells when the claim is broken.
#include "claims/bounds.hpp"
#include "encode/encoder.hpp"

namespace lanyard {

void Encoder::condition() {
    int number = 0;
    for (const auto& e : condition_.holds) {
        ++number;
        const z3::expr holds = boolean(*e, {"condition" + std::to_string(number), false});
        s_.outputs.push_back(holds);
        rule("condition: " + condition_.name + (condition_.holds.size() > 1 ? " " + std::to_string(number) : ""),
             holds);
    }
}

void Encoder::monitor() {
    if (claim_ < 0) return;
    const Claim& claim = m_.claims[static_cast<std::size_t>(claim_)];
    const Owner who{"claim", false};
    if (const auto* a = std::get_if<Always>(&claim.body)) {
        s_.bad = !boolean(*a->body, who);
        if (a->body->op == Op::implies) s_.demand = boolean(*a->body->args[0], who);
    } else if (const auto* r = std::get_if<Response>(&claim.body)) {
        response(*r);
    } else if (const auto* p = std::get_if<Possible>(&claim.body)) {
        s_.bad = boolean(*p->body, who);
    } else if (const auto* steps = std::get_if<Procedure>(&claim.body)) {
        procedure(*steps);
    } else {
        throw Unsupported{"this kind of claim"};
    }
    s_.outputs.push_back(s_.bad);
    s_.outputs.push_back(s_.demand);
}

void Encoder::response(const Response& r) {
    const Owner who{"claim", false};
    const z3::expr p = boolean(*r.whenever, who);
    const z3::expr q = boolean(*r.then, who);
    if (response_is_too_fast(r, m_.scan)) {
        s_.bad = s_.demand = p;
        return;
    }
    RunClock& m = clock("claim.count", "claim", p, false);
    s_.demand = at_least(m, response_bound(r, m_.scan));
    s_.bad = s_.demand && !q;
}

namespace {
std::string phase_name(std::size_t i) { return "claim.step" + std::to_string(i + 1); }
}  // namespace

// The driver's state: which step, whether its `until` has been seen, and the clocks of both. The switches follow
// from the step, so this comes before anything that reads a switch.
void Encoder::procedure_driver(const Procedure& p) {
    const z3::expr step = state("claim.step", integer(0), "claim");
    for (auto& v : s_.state)
        if (z3::eq(v.cur, step)) v.bound = static_cast<long>(p.phases.size());
    for (std::size_t i = 0; i < m_.switches.size(); ++i) {
        z3::expr on = truth(p.rest[i]);
        for (std::size_t f = 0; f < p.phases.size(); ++f)
            if (p.phases[f].positions[i] != p.rest[i])
                on = z3::ite(step == integer(static_cast<long>(f)), truth(p.phases[f].positions[i]), on);
        driven_[i] = on;
        s_.readback.positions[i] = on;
    }
}

void Encoder::procedure(const Procedure& p) {
    const Owner who{"claim", false};
    const z3::expr step = s_.state.front().cur;
    const z3::expr heard = state("claim.heard", truth(false), "claim");
    const z3::expr seen = state("claim.seen", truth(false), "claim");
    const z3::expr choice = input("claim.moves_on", ctx_.bool_sort());
    s_.readback.claim_moves_on = choice;
    const auto count = static_cast<long>(p.phases.size());
    RunClock& time = clock("claim.in_step", "claim", step < integer(count), false);

    z3::expr ends = truth(false), hears = truth(false);
    for (std::size_t i = 0; i < p.phases.size(); ++i) {
        const Phase& phase = p.phases[i];
        const z3::expr here = step == integer(static_cast<long>(i));
        z3::expr over = at_least(time, std::max(1L, up(phase.limit)));
        if (phase.until) {
            const z3::expr hears_here = here && (heard || boolean(*phase.until, {phase_name(i), false}));
            RunClock& reacts = clock(phase_name(i) + ".reacts", "claim", hears_here, false);
            over = over || at_least(reacts, up(phase.reaction.hi) + 1) ||
                   (at_least(reacts, down(phase.reaction.lo) + 1) && choice);
            hears = hears || hears_here;
            reacts.resets = here && over;
        }
        ends = ends || (here && over);
    }
    time.resets = ends;
    state_next(heard, hears && !ends);
    state_next(step, z3::ite(ends, step + 1, step));
    const z3::expr seen_now = seen || (step >= integer(count - 1) && boolean(*p.goal, who));
    state_next(seen, seen_now);
    if (p.within) {
        RunClock& clock_of_run = clock("claim.time", "claim", truth(true), false);
        s_.demand = at_least(clock_of_run, down(*p.within) + 1);
    } else {
        s_.demand = step == integer(count);
    }
    s_.bad = s_.demand && !seen_now;
}

}  // namespace lanyard
