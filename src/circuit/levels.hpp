// What the wiring does, as terms over all that switches in it and over its faults (C. E. Shannon, "A symbolic analysis
// of relay and switching circuits", Trans. AIEE 57, 1938).
//
// What it decides: the levels of circuit/flow.hpp, for every position at once.
// Why it is sound: each level is a least solution (circuit/least.hpp). Tested against the search by tests/circuit.
#pragma once

#include <map>
#include <optional>
#include <tuple>
#include <vector>

#include "base/slot.hpp"
#include "circuit/least.hpp"
#include "circuit/spread.hpp"
#include "model/model.hpp"

namespace lanyard {

// Something that the terms are over. A branch that switches `conducts` as it would without a fault of its own; a
// contact that `bounces` is found open; a source is `live` as far as no fault prevents it.
struct WiringEvent {
    enum class Kind { conducts, bounces, live, fault };
    Kind kind = Kind::fault;
    int index = -1;  // branch, branch, source, fault
};

// Gates: as for LeastSolution, and Term happens(WiringEvent).
template <class Gates>
class Levels {
 public:
    using Term = typename Gates::Term;
    // What must be and what may be.
    struct Answer {
        Term must, may;
    };

    Levels(const Circuit& circuit, Gates gates);

    Answer has_plus(int node) {
        return in_any([&](std::size_t r) { return has(r, Sign::plus, node); });
    }
    Answer is_grounded(int node) { return has(0, Sign::ground, node); }
    // As the controller sees it, whose own ground need not be the chassis.
    Answer input_has_plus(int node) { return as_seen(node, Sign::plus); }
    Answer input_is_grounded(int node) { return as_seen(node, Sign::ground); }
    Answer works(int branch);
    Answer is_fed(int plus, int minus) {
        return in_any([&](std::size_t r) { return both(has(r, Sign::plus, plus), has(r, Sign::ground, minus)); });
    }
    Answer field_is_fed(int source);

 private:
    using Level = std::vector<Term>;  // per node
    // What is fed by way of one return.
    struct Return {
        int root;
        Term exists;
        Level hard, plus, ground;
    };

    Term any(const std::vector<int>& faults);
    Term conducts(std::size_t branch);
    Term alive(std::size_t source);
    Level none() { return Level(circuit_.nodes.size(), g_.constant(false)); }
    const std::vector<Return>& returns();
    Return levels(int root, const Term& exists);
    // entry(branch, node): a source counts as a branch behind the last one.
    template <class Entry>
    Level spread(Level has, Sign sign, const Entry& entry, int root = -1);
    const Level& weak(std::size_t which, Sign sign, int without);
    Term surely(const Return& r, Sign sign, int node);
    Answer has(std::size_t which, Sign sign, int node);
    Answer as_seen(int node, Sign sign);
    template <class Ask>
    Answer in_any(const Ask& ask);

    Answer both(const Answer& a, const Answer& b) { return {g_.both(a.must, b.must), g_.both(a.may, b.may)}; }
    Answer either(const Answer& a, const Answer& b) { return {g_.either(a.must, b.must), g_.either(a.may, b.may)}; }
    Term but_not(const Term& a, const Term& b) { return g_.both(a, g_.negation(b)); }

    const Circuit& circuit_;
    Gates g_;
    Level conducts_;  // per branch
    std::vector<Return> returns_;
    std::map<std::tuple<std::size_t, Sign, int>, Level> weak_;  // by return, sign, branch left out
};

// Else the answer lies in what switches and breaks, and not in where plus and ground get to.
inline bool is_of_the_levels(ProbeKind kind) {
    switch (kind) {
        case ProbeKind::load:
        case ProbeKind::coil:
        case ProbeKind::input:
        case ProbeKind::supply:
        case ProbeKind::field:
        case ProbeKind::node:
        case ProbeKind::magneto:
            return true;
        case ProbeKind::flight:
        case ProbeKind::passage:
        case ProbeKind::bounce:
        case ProbeKind::chatter:
        case ProbeKind::reset:
            return false;
    }
    return false;
}

// What the wiring itself is asked by a probe: for an input whether its node has plus (pulled up: is grounded), for a
// magneto whether its lead is grounded, for all others whether they are fed. Nothing for probes that are no matter of
// the levels.
template <class Wiring>
std::optional<typename Wiring::Answer> ask(Wiring& w, const Model& m, const Probe& p) {
    const Circuit& c = m.circuit;
    switch (p.kind) {
        case ProbeKind::load:
        case ProbeKind::coil:
            return w.works(p.index);
        case ProbeKind::input: {
            const WiredInput& i = m.wired_inputs[slot(p.index)];
            return i.pulled_up ? w.input_is_grounded(i.node) : w.input_has_plus(i.node);
        }
        case ProbeKind::supply:
            return w.is_fed(c.supply_plus, c.supply_minus);
        case ProbeKind::field:
            return w.field_is_fed(p.index);
        case ProbeKind::node:
            return w.has_plus(p.index);
        case ProbeKind::magneto:
            return w.is_grounded(c.magneto_lead[slot(p.index)]);
        case ProbeKind::flight:
        case ProbeKind::passage:
        case ProbeKind::bounce:
        case ProbeKind::chatter:
        case ProbeKind::reset:
            return std::nullopt;
    }
    return std::nullopt;
}

template <class Gates>
Levels<Gates>::Levels(const Circuit& circuit, Gates gates) : circuit_(circuit), g_(std::move(gates)) {
    for (std::size_t b = 0; b < circuit.branches.size(); ++b) conducts_.push_back(conducts(b));
}

template <class Gates>
typename Gates::Term Levels<Gates>::any(const std::vector<int>& faults) {
    Term any = g_.constant(false);
    for (const int f : faults) any = g_.either(any, g_.happens({WiringEvent::Kind::fault, f}));
    return any;
}

template <class Gates>
typename Gates::Term Levels<Gates>::conducts(std::size_t index) {
    const Branch& b = circuit_.branches[index];
    Term closed = g_.constant(b.kind != BranchKind::stray);
    if (is_switched(b)) closed = g_.happens({WiringEvent::Kind::conducts, static_cast<int>(index)});
    closed = g_.either(closed, any(b.closed_by));
    if (!b.bounced_by.empty())
        closed = but_not(closed, g_.happens({WiringEvent::Kind::bounces, static_cast<int>(index)}));
    return but_not(closed, any(b.opened_by));
}

template <class Gates>
typename Gates::Term Levels<Gates>::alive(std::size_t index) {
    const Source& s = circuit_.sources[index];
    const bool always = !s.live && s.field < 0;
    const Term live = always ? g_.constant(true) : g_.happens({WiringEvent::Kind::live, static_cast<int>(index)});
    return but_not(live, any(s.dead_by));
}

template <class Gates>
const std::vector<typename Levels<Gates>::Return>& Levels<Gates>::returns() {
    if (!returns_.empty()) return returns_;
    returns_.push_back(levels(0, g_.constant(true)));
    for (const int root : returns_of(circuit_)) {
        if (root == 0) continue;
        const Term cut_off = g_.negation(returns_.front().hard[slot(root)]);
        if (!g_.is(cut_off, false)) returns_.push_back(levels(root, cut_off));
    }
    return returns_;
}

template <class Gates>
typename Levels<Gates>::Return Levels<Gates>::levels(int root, const Term& exists) {
    const auto branch = [&](std::size_t b) -> const Branch& { return circuit_.branches[b]; };
    Level own = none();
    own[slot(root)] = exists;
    Level hard = spread(own, Sign::ground, [&](std::size_t b, int) {
        return g_.constant(!is_consumer(branch(b)) && branch(b).kind != BranchKind::fuse);
    });
    own = none();
    for (std::size_t s = 0; s < circuit_.sources.size(); ++s) {
        Term& to = own[slot(circuit_.sources[s].plus)];
        to = g_.either(to, g_.both(alive(s), hard[slot(circuit_.sources[s].minus)]));
    }
    const auto but_fuses = [&](std::size_t b, const Level& barred, int node) {
        if (is_consumer(branch(b))) return g_.constant(false);
        return branch(b).kind == BranchKind::fuse ? g_.negation(barred[slot(node)]) : g_.constant(true);
    };
    Level plus = spread(own, Sign::plus, [&](std::size_t b, int node) {
        return node == root ? g_.constant(false) : but_fuses(b, hard, node);
    });
    Level ground = spread(hard, Sign::ground, [&](std::size_t b, int node) { return but_fuses(b, plus, node); });
    return {root, exists, std::move(hard), std::move(plus), std::move(ground)};
}

template <class Gates>
template <class Entry>
typename Levels<Gates>::Level Levels<Gates>::spread(Level has, Sign sign, const Entry& entry, int root) {
    LeastSolution<Gates> system(g_, std::move(has));
    for (std::size_t i = 0; i < circuit_.branches.size(); ++i) {
        const Branch& b = circuit_.branches[i];
        const auto pass = [&](int here, int there) {
            const Term backwards = passes_diode(b, here, sign) ? g_.constant(true) : any(b.closed_by);
            system.add(slot(here), slot(there), g_.both(g_.both(conducts_[i], backwards), entry(i, there)));
        };
        pass(b.from, b.to);
        pass(b.to, b.from);
    }
    for (const Source& s : circuit_.sources) {
        if (root < 0 || s.minus == root) continue;
        const int here = sign == Sign::plus ? s.minus : s.plus, there = sign == Sign::plus ? s.plus : s.minus;
        system.add(slot(here), slot(there), entry(circuit_.branches.size(), there));
    }
    return std::move(system).solve();
}

template <class Gates>
const typename Levels<Gates>::Level& Levels<Gates>::weak(std::size_t which, Sign sign, int without) {
    const auto key = std::make_tuple(which, sign, without);
    if (const auto found = weak_.find(key); found != weak_.end()) return found->second;
    const Return& r = returns()[which];
    const Level& held = sign == Sign::plus ? r.ground : r.plus;
    const auto lets_through = [&](std::size_t b) {
        return b >= circuit_.branches.size() || !is_consumer(circuit_.branches[b]) || circuit_.branches[b].lets_through;
    };
    const auto entry = [&](std::size_t b, int node) {
        return static_cast<int>(b) != without && lets_through(b) ? g_.negation(held[slot(node)]) : g_.constant(false);
    };
    Level out = spread(sign == Sign::plus ? r.plus : r.ground, sign, entry, r.root);
    return weak_.emplace(key, std::move(out)).first->second;
}

template <class Gates>
typename Gates::Term Levels<Gates>::surely(const Return& r, Sign sign, int node) {
    const Term &p = r.plus[slot(node)], &g = r.ground[slot(node)];
    return sign == Sign::plus ? but_not(p, g) : but_not(g, p);
}

template <class Gates>
typename Levels<Gates>::Answer Levels<Gates>::has(std::size_t which, Sign sign, int node) {
    return {surely(returns()[which], sign, node), weak(which, sign, -1)[slot(node)]};
}

template <class Gates>
template <class Ask>
typename Levels<Gates>::Answer Levels<Gates>::in_any(const Ask& ask) {
    Answer out{g_.constant(false), g_.constant(false)};
    for (std::size_t r = 0; r < returns().size(); ++r) out = either(out, ask(r));
    return out;
}

template <class Gates>
typename Levels<Gates>::Answer Levels<Gates>::as_seen(int node, Sign sign) {
    const int own = circuit_.supply_minus;
    if (own < 0) return sign == Sign::plus ? has_plus(node) : is_grounded(node);
    // While no other return exists, the controller's own ground is not asked for.
    Term others = g_.constant(false);
    for (std::size_t r = 1; r < returns().size(); ++r) others = g_.either(others, returns()[r].exists);
    const Term alone = g_.negation(others);
    return in_any([&](std::size_t r) {
        Answer on_it{alone, alone};
        if (r > 0 || !g_.is(others, false)) {
            const Answer ground = has(r, Sign::ground, own);
            on_it = r == 0 ? either(on_it, ground) : ground;
        }
        return both(has(r, sign, node), on_it);
    });
}

template <class Gates>
typename Levels<Gates>::Answer Levels<Gates>::field_is_fed(int source) {
    const Source& s = circuit_.sources[slot(source)];
    return in_any([&](std::size_t r) {
        const Term& on_it = returns()[r].hard[slot(s.minus)];
        return both(has(r, Sign::plus, s.field_node), {on_it, on_it});
    });
}

template <class Gates>
typename Levels<Gates>::Answer Levels<Gates>::works(int branch) {
    const Branch& b = circuit_.branches[slot(branch)];
    const Term& whole = conducts_[slot(branch)];
    return in_any([&](std::size_t which) {
        const Return& r = returns()[which];
        const Level &plus = weak(which, Sign::plus, branch), &ground = weak(which, Sign::ground, branch);
        const auto between = [&](int from, int to) {
            return Answer{g_.both(surely(r, Sign::plus, from), surely(r, Sign::ground, to)),
                          g_.both(plus[slot(from)], ground[slot(to)])};
        };
        Answer a = between(b.from, b.to);
        if (!b.polar) a = either(a, between(b.to, b.from));
        return both(a, {whole, whole});
    });
}

}  // namespace lanyard
