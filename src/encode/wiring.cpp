// The levels of the wiring (circuit/flow.hpp) as formulas.
//
// What it decides: nothing; it states for each node what has to be closed for it to have plus or ground. Each level is
// the least solution of x_n = own_n or OR over branches (conducts and x_m), which is found by eliminating one
// node after the other: in a Boolean algebra the star of any term is true, so that a node's own loop drops out
// (S. C. Kleene 1956; R. E. Tarjan, "A unified approach to path problems", J. ACM 28, 1981). The order is that of the
// fewest neighbours, which keeps formulas of tree-like wiring as small as the wiring.
//
// Why it is sound: elimination is exact, whatever the order. Tested against the search by tests/circuit.
#include "base/slot.hpp"
#include "circuit/words.hpp"
#include "encode/encoder.hpp"
#include "encode/folded.hpp"
#include "encode/least.hpp"

namespace lanyard {

namespace {

bool is_consumer(const Branch& b) { return b.kind == BranchKind::load || b.kind == BranchKind::coil; }
bool is_switched(const Branch& b) {
    return b.kind == BranchKind::pole || b.kind == BranchKind::contact || b.kind == BranchKind::output;
}

}  // namespace

z3::expr Encoder::answer(int probe) {
    const auto found = answers_.find(probe);
    if (found != answers_.end()) return found->second;
    const Truths t = truths(m_.circuit.probes[slot(probe)]);
    z3::expr value = filled(t.must);
    if (differ(t)) {
        const z3::expr choice = input(probe_name(m_, probe) + ".fed", ctx_.bool_sort());
        s_.readback.wiring_choices[slot(probe)] = choice;
        value = folded_or(value, folded_and(filled(t.may), choice));
    }
    s_.readback.wiring[slot(probe)] = value;
    return answers_.emplace(probe, value).first->second;
}

// Whether the world has a choice, whatever the branches do.
bool Encoder::differ(const Truths& t) {
    if (z3::eq(t.must, t.may)) return false;
    Solver solver(ctx_);
    solver.add(t.may && !t.must);
    return solver.check({}, 1'000'000) != Answer::unsatisfiable;
}

// Branches stand in formulas by names of their own until it is known which of them matter.
z3::expr Encoder::filled(const z3::expr& e) {
    z3::expr_vector from(ctx_), to(ctx_);
    std::set<unsigned> seen;
    std::vector<z3::expr> open{e};
    while (!open.empty()) {
        const z3::expr next = open.back();
        open.pop_back();
        if (!seen.insert(next.id()).second) continue;
        for (unsigned i = 0; i < next.num_args(); ++i) open.push_back(next.arg(i));
        const auto found = stands_for_.find(next.id());
        if (found == stands_for_.end()) continue;
        from.push_back(next);
        to.push_back(conducts(found->second.second, found->second.first));
    }
    z3::expr out = e;
    return out.substitute(from, to);
}

z3::expr Encoder::asked(ProbeKind kind, int index) {
    const auto& probes = m_.circuit.probes;
    for (std::size_t p = 0; p < probes.size(); ++p)
        if (probes[p].kind == kind && probes[p].index == index) return answer(static_cast<int>(p));
    return truth(false);
}

z3::expr Encoder::answered_before(int probe) {
    const auto found = answers_before_.find(probe);
    if (found != answers_before_.end()) return found->second;
    const std::string name = probe_name(m_, probe);
    const z3::expr before = state(name + ".before", truth(false), name);
    later([this, probe, before] { state_next(before, answer(probe)); });
    return answers_before_.emplace(probe, before).first->second;
}

Encoder::Truths Encoder::truths(const Probe& probe) {
    const Circuit& c = m_.circuit;
    const auto turned = [](const Truths& t) { return Truths{folded_not(t.may), folded_not(t.must)}; };
    switch (probe.kind) {
        case ProbeKind::load:
            return works(Stage::rest, probe.index);
        case ProbeKind::coil:
            return coil(probe.index);
        case ProbeKind::input: {
            const WiredInput& w = m_.wired_inputs[slot(probe.index)];
            Truths on =
                w.pulled_up ? turned(is_grounded(Stage::controller, w.node)) : has_plus(Stage::controller, w.node);
            if (w.on_when_low) on = turned(on);
            const z3::expr stuck_on = any_fault(w.stuck_on_by), whole = folded_not(any_fault(w.stuck_off_by));
            return {folded_or(stuck_on, folded_and(whole, on.must)), folded_or(stuck_on, folded_and(whole, on.may))};
        }
        case ProbeKind::supply: {
            const auto sure = [&](bool plus, int node) { return surely(Stage::controller, plus, node); };
            return {folded_and(sure(true, c.supply_plus), sure(false, c.supply_minus)),
                    folded_and(weak(Stage::controller, true, -1)[slot(c.supply_plus)],
                               weak(Stage::controller, false, -1)[slot(c.supply_minus)])};
        }
        case ProbeKind::field:
            return has_plus(Stage::rest, c.sources[slot(probe.index)].field_node);
        case ProbeKind::node:
            return has_plus(Stage::rest, probe.index);
        case ProbeKind::magneto:
            return turned(is_grounded(Stage::rest, c.magneto_lead[slot(probe.index)]));
        case ProbeKind::flight: {
            const z3::expr wants = wants_.at(probe.index), found = signal(m_.relays[slot(probe.index)].contact);
            return {truth(false), wants != found};
        }
        case ProbeKind::bounce:
            return {truth(false), any_fault(c.branches[slot(probe.index)].bounced_by)};
        case ProbeKind::chatter:
            return {truth(false), any_fault(m_.switches[slot(probe.index)].bounced_by)};
        case ProbeKind::reset:
            return {truth(false), any_fault(m_.supply.resets_by)};
    }
    return {truth(false), truth(false)};
}

Encoder::Truths Encoder::coil(int branch) {
    const Relay& r = m_.relays[slot(m_.circuit.branches[slot(branch)].index)];
    Truths t = works(Stage::coils, branch);
    if (m_.circuit.voltage < 0) return t;
    const Num v = quantity(m_.circuit.voltage);
    const auto is = [&](Op op, const Rational& limit) {
        const z3::expr x = rational(limit);
        return compare(op, v, Num{x, x, false});
    };
    if (r.releases_at) t.may = folded_and(t.may, is(Op::gt, *r.releases_at));
    if (r.operates_at) t.must = folded_and(t.must, is(Op::ge, *r.operates_at));
    if (r.releases_at) t.must = folded_and(t.must, t.may);
    return t;
}

z3::expr Encoder::conducts(std::size_t branch, Stage stage) {
    const Branch& b = m_.circuit.branches[branch];
    z3::expr closed = truth(b.kind != BranchKind::stray);
    const auto made = [&](const z3::expr& e) { return b.makes ? e : folded_not(e); };
    if (b.kind == BranchKind::pole) closed = made(position(b.index));
    if (b.kind == BranchKind::contact) {
        const Relay& relay = m_.relays[slot(b.index)];
        closed = made(stage == Stage::rest ? signal(relay.contact) : found_before(b.index));
        if (const int p = relay.flight_probe; p >= 0)
            closed = folded_and(closed, folded_not(stage == Stage::rest ? answer(p) : answered_before(p)));
    }
    if (b.kind == BranchKind::output) {
        const SignalId id = m_.outputs[slot(b.index)].signal;
        const bool before = stage == Stage::controller;
        const z3::expr on = before ? last(id) : driving(id);
        closed = b.makes ? on : folded_and(before ? powered_before() : powered(), folded_not(on));
    }
    closed = folded_or(closed, any_fault(b.closed_by));
    closed = folded_and(closed, folded_not(asked(ProbeKind::bounce, static_cast<int>(branch))));
    return folded_and(closed, folded_not(any_fault(b.opened_by)));
}

z3::expr Encoder::powered_before() {
    if (!powered_before_) {
        const z3::expr before = state("powered.before", truth(false), "");
        powered_before_ = before;
        later([this, before] { state_next(before, powered()); });
    }
    return *powered_before_;
}

z3::expr Encoder::is_live(std::size_t source) {
    const Source& s = m_.circuit.sources[source];
    z3::expr live = s.live ? boolean(*s.live, {s.name, false}) : truth(true);
    if (s.field >= 0) live = folded_and(live, folded_or(answered_before(s.field), any_fault(s.excited_by)));
    return folded_and(live, folded_not(any_fault(s.dead_by)));
}

const std::vector<z3::expr>& Encoder::conduction(Stage stage) {
    auto& all = conduction_[static_cast<int>(stage)];
    if (all.empty())
        for (std::size_t b = 0; b < m_.circuit.branches.size(); ++b) {
            if (!is_switched(m_.circuit.branches[b])) {
                all.push_back(conducts(b, stage));
                continue;
            }
            const std::string name = "branch." + std::to_string(static_cast<int>(stage)) + "." + std::to_string(b);
            all.push_back(ctx_.bool_const(name.c_str()));
            stands_for_.emplace(all.back().id(), std::make_pair(stage, b));
            kept_.push_back(all.back());
        }
    return all;
}

std::vector<z3::expr> Encoder::spread(std::vector<z3::expr> has, Stage stage, bool plus, const Entry& entry) {
    const Circuit& c = m_.circuit;
    LeastSolution system(std::move(has));
    for (std::size_t i = 0; i < c.branches.size(); ++i) {
        const Branch& b = c.branches[i];
        const z3::expr& closed = conduction(stage)[i];
        const z3::expr backwards = b.kind == BranchKind::diode ? any_fault(b.closed_by) : truth(true);
        const auto pass = [&](int from, int to, const z3::expr& how) {
            system.add(slot(from), slot(to), folded_and(folded_and(closed, how), entry(i, to)));
        };
        pass(b.from, b.to, plus ? truth(true) : backwards);
        pass(b.to, b.from, plus ? backwards : truth(true));
    }
    return std::move(system).solve();
}

const Encoder::Levels& Encoder::levels(Stage stage) {
    const auto found = levels_.find(static_cast<int>(stage));
    if (found != levels_.end()) return found->second;
    const Circuit& c = m_.circuit;
    std::vector<z3::expr> none(c.nodes.size(), truth(false));
    std::vector<z3::expr> hard = none, plus = none;
    hard[0] = truth(true);
    hard = spread(std::move(hard), stage, false, [&](std::size_t b, int) {
        return truth(!is_consumer(c.branches[b]) && c.branches[b].kind != BranchKind::fuse);
    });
    for (std::size_t s = 0; s < c.sources.size(); ++s) {
        z3::expr& to = plus[slot(c.sources[s].plus)];
        to = folded_or(to, folded_and(is_live(s), hard[slot(c.sources[s].minus)]));
    }
    const auto but_fuses = [&](const std::vector<z3::expr>& barred) {
        return [&](std::size_t b, int node) {
            if (is_consumer(c.branches[b])) return truth(false);
            return c.branches[b].kind == BranchKind::fuse ? folded_not(barred[slot(node)]) : truth(true);
        };
    };
    plus = spread(std::move(plus), stage, true, [&, enter = but_fuses(hard)](std::size_t b, int node) {
        return node == 0 ? truth(false) : enter(b, node);
    });
    std::vector<z3::expr> ground = spread(hard, stage, false, but_fuses(plus));
    return levels_.emplace(static_cast<int>(stage), Levels{std::move(plus), std::move(ground)}).first->second;
}

std::vector<z3::expr> Encoder::weak(Stage stage, bool plus, int without) {
    const auto key = std::make_tuple(static_cast<int>(stage), plus, without);
    const auto found = weak_.find(key);
    if (found != weak_.end()) return found->second;
    const Levels& l = levels(stage);
    const std::vector<z3::expr>& held = plus ? l.ground : l.plus;
    auto out = spread(plus ? l.plus : l.ground, stage, plus, [&](std::size_t b, int node) {
        const Branch& branch = m_.circuit.branches[b];
        const bool passes = static_cast<int>(b) != without && (!is_consumer(branch) || branch.lets_through);
        return passes ? folded_not(held[slot(node)]) : truth(false);
    });
    return weak_.emplace(key, std::move(out)).first->second;
}

z3::expr Encoder::surely(Stage stage, bool plus, int node) {
    const Levels& l = levels(stage);
    const z3::expr &p = l.plus[slot(node)], &g = l.ground[slot(node)];
    return plus ? folded_and(p, folded_not(g)) : folded_and(g, folded_not(p));
}

Encoder::Truths Encoder::has_plus(Stage stage, int node) {
    return {surely(stage, true, node), weak(stage, true, -1)[slot(node)]};
}

Encoder::Truths Encoder::is_grounded(Stage stage, int node) {
    return {surely(stage, false, node), weak(stage, false, -1)[slot(node)]};
}

Encoder::Truths Encoder::works(Stage stage, int branch) {
    const Branch& b = m_.circuit.branches[slot(branch)];
    const auto plus = weak(stage, true, branch), ground = weak(stage, false, branch);
    const auto between = [&](int from, int to) {
        return Truths{folded_and(surely(stage, true, from), surely(stage, false, to)),
                      folded_and(plus[slot(from)], ground[slot(to)])};
    };
    Truths t = between(b.from, b.to);
    if (!b.polar) {
        const Truths back = between(b.to, b.from);
        t = {folded_or(t.must, back.must), folded_or(t.may, back.may)};
    }
    const z3::expr whole = conduction(stage)[slot(branch)];
    return {folded_and(whole, t.must), folded_and(whole, t.may)};
}

}  // namespace lanyard
