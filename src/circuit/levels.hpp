// What the wiring does, as terms over all that switches in it and over its faults (C. E. Shannon, "A symbolic analysis
// of relay and switching circuits", Trans. AIEE 57, 1938).
//
// What it decides: the levels of circuit/flow.hpp, for every position at once.
// Why it is sound: each level is a least solution (circuit/least.hpp). Tested against the search by tests/circuit.
// Tested by: tests/circuit/levels_test.cpp
#pragma once

#include <algorithm>
#include <map>
#include <optional>
#include <tuple>
#include <vector>

#include "circuit/least.hpp"
#include "circuit/spread.hpp"
#include "model/model.hpp"

namespace lanyard::circuit {

// Something that the terms are over. A branch that switches `conducts` as it would without a fault of its own; a
// contact that `bounces` is found open; a source is `live` as far as no fault prevents it.
struct WiringEvent {
    enum class Kind { conducts, bounces, live, fault };
    Kind kind = Kind::fault;
    AnyId index;  // branch, branch, source, fault
    friend auto operator<=>(const WiringEvent&, const WiringEvent&) = default;
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

    Answer has_plus(NodeId node) {
        return in_any([&](std::size_t r) { return has(r, Sign::plus, node); });
    }
    Answer is_grounded(NodeId node) { return has(0, Sign::ground, node); }
    // As the controller sees it, whose own ground need not be the chassis.
    Answer input_has_plus(NodeId node);
    Answer input_is_grounded(NodeId node);
    Answer is_stopped(NodeId lead);
    Answer works(BranchId branch);
    Answer is_fed(NodeId plus, NodeId minus) {
        return in_any([&](std::size_t r) { return both(has(r, Sign::plus, plus), has(r, Sign::ground, minus)); });
    }

 private:
    using Level = Indexed<Node, Term>;
    using Heights = Indexed<Raised, Term>;
    struct Return {
        NodeId root;
        Level below_dead, above_dead, up, plus, ground;
    };
    // Whom a load's weak levels are asked for: what they leave out, and the ends that they lie between.
    struct Asked {
        BranchId without;
        NodeId plus_end, ground_end;
        friend auto operator<=>(const Asked&, const Asked&) = default;
    };
    // How a spread goes on through sources that it did not begin with.
    enum class Sources { stop, sure, pass };

    Term any(const std::vector<FaultId>& faults);
    Term conducts(BranchId branch);
    Term alive(SourceId source);
    Term none() { return g_.constant(false); }
    Level level() { return Level(like(circuit_.nodes), none()); }
    const Branch& branch(BranchId b) const { return circuit_.branches[b]; }
    bool is_copper(BranchId b) const { return !is_consumer(branch(b)); }
    bool is_fuse(BranchId b) const { return branch(b).kind == BranchKind::fuse; }
    bool in_series() const { return heights_ > 1; }
    Sources passed(NodeId root) const { return passes_sources(circuit_, root) ? Sources::pass : Sources::stop; }
    bool may_be_dead() { return !g_.is(dead_short_, false); }

    const std::vector<Return>& returns();
    void find_shorts();
    void judge_fuse(BranchId fuse);
    Return levels(NodeId root);
    // Over the branches, each as far as it conducts; entry(branch, node), no branch for a source.
    template <class Entry>
    Level spread(Level has, Sign sign, const Indexed<Branch, Term>& conducts, Sources sources, const Entry& entry);
    template <class Counts>
    Heights heights(NodeId root, Sign sign, const Counts& counts);
    // Whether a short through the fuse is possible at all, for some positions and faults.
    bool on_a_short(BranchId fuse, NodeId root);
    RaisedId at_height(std::size_t height, NodeId node) const { return raised(circuit_, height, node); }
    const Level& weak(std::size_t which, Sign sign, Asked asked);
    Level begin_weak(const Return& r, Sign sign, BranchId without);
    // A source (no branch), copper, a load that lets current through; all but `without`.
    bool lets_pass(BranchId b, BranchId without) const {
        return !b || (b != without && (is_copper(b) || branch(b).lets_through));
    }
    Answer has(std::size_t which, Sign sign, NodeId node);
    template <class Ask>
    Answer in_any(const Ask& ask);

    Answer both(const Answer& a, const Answer& b) { return {g_.both(a.must, b.must), g_.both(a.may, b.may)}; }
    Answer either(const Answer& a, const Answer& b) { return {g_.either(a.must, b.must), g_.either(a.may, b.may)}; }
    Term but_not(const Term& a, const Term& b) { return g_.both(a, g_.negation(b)); }

    const Circuit& circuit_;
    Gates g_;
    std::vector<NodeId> roots_;
    std::size_t heights_;
    Indexed<Branch, Term> conducts_;
    Indexed<Source, Term> alive_;
    Indexed<Source, Term> dead_;          // it is live, and on a dead short
    Term dead_short_;                     // any of them
    Indexed<Branch, Term> sure_, maybe_;  // conducts, whatever fuses blow; unless it is a fuse that surely blows
    std::vector<Return> returns_;
    std::map<std::tuple<std::size_t, Sign, Asked>, Level> weak_;
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
            const WiredInput& i = m.wired_inputs[p.index];
            return i.pulled_up ? w.input_is_grounded(i.node) : w.input_has_plus(i.node);
        }
        case ProbeKind::supply:
            return w.is_fed(c.supply_plus, c.supply_minus);
        case ProbeKind::field:
            return w.works(c.sources[p.index].winding);
        case ProbeKind::node:
            return w.has_plus(p.index);
        case ProbeKind::magneto:
            return w.is_stopped(c.magneto_lead[p.index]);
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
Levels<Gates>::Levels(const Circuit& circuit, Gates gates)
    : circuit_(circuit),
      g_(std::move(gates)),
      roots_(returns_of(circuit)),
      heights_(heights_of(circuit)),
      dead_short_(g_.constant(false)) {
    for (const BranchId b : circuit.branches.ids()) conducts_.push_back(conducts(b));
    for (const SourceId s : circuit.sources.ids()) alive_.push_back(alive(s));
}

template <class Gates>
typename Gates::Term Levels<Gates>::any(const std::vector<FaultId>& faults) {
    Term any = none();
    for (const FaultId f : faults) any = g_.either(any, g_.happens({WiringEvent::Kind::fault, f}));
    return any;
}

template <class Gates>
typename Gates::Term Levels<Gates>::conducts(BranchId index) {
    const Branch& b = circuit_.branches[index];
    Term closed = g_.constant(b.kind != BranchKind::stray);
    if (is_switched(b)) closed = g_.happens({WiringEvent::Kind::conducts, index});
    closed = g_.either(closed, any(b.closed_by));
    if (!b.bounced_by.empty()) closed = but_not(closed, g_.happens({WiringEvent::Kind::bounces, index}));
    return but_not(closed, any(b.opened_by));
}

template <class Gates>
typename Gates::Term Levels<Gates>::alive(SourceId index) {
    const Source& s = circuit_.sources[index];
    const bool always = !s.live && !s.field;
    const Term live = always ? g_.constant(true) : g_.happens({WiringEvent::Kind::live, index});
    return but_not(live, any(s.dead_by));
}

template <class Gates>
const std::vector<typename Levels<Gates>::Return>& Levels<Gates>::returns() {
    if (!returns_.empty()) return returns_;
    find_shorts();
    for (const NodeId root : roots_) returns_.push_back(levels(root));
    return returns_;
}

template <class Gates>
typename Levels<Gates>::Return Levels<Gates>::levels(NodeId root) {
    Return r{root, level(), level(), level(), level(), level()};
    const auto& sources = circuit_.sources;
    if (may_be_dead()) {
        for (const SourceId s : sources.ids())
            for (const auto& [level, node] :
                 {std::pair(&r.below_dead, sources[s].plus), std::pair(&r.above_dead, sources[s].minus)})
                if (node != root) (*level)[node] = g_.either((*level)[node], dead_[s]);
        const auto short_of_root = [&](BranchId b, NodeId node) {
            return g_.constant(node != root && (!b || is_copper(b)));
        };
        r.below_dead = spread(std::move(r.below_dead), Sign::plus, conducts_, passed(root), short_of_root);
        r.above_dead = spread(std::move(r.above_dead), Sign::ground, conducts_, passed(root), short_of_root);
    }
    r.up[root] = r.ground[root] = g_.constant(true);
    r.up = spread(std::move(r.up), Sign::plus, sure_, Sources::stop,
                  [&](BranchId, NodeId node) { return g_.negation(r.above_dead[node]); });
    const auto in_order = [&](NodeId node) { return node == root ? none() : g_.negation(r.above_dead[node]); };
    for (const SourceId s : sources.ids()) {
        Term& to = r.plus[sources[s].plus];
        const Term gives = g_.both(but_not(alive_[s], dead_[s]), in_order(sources[s].plus));
        to = g_.either(to, g_.both(gives, r.up[sources[s].minus]));
    }
    r.plus = spread(std::move(r.plus), Sign::plus, sure_, Sources::sure,
                    [&](BranchId, NodeId node) { return in_order(node); });
    r.ground = spread(std::move(r.ground), Sign::ground, sure_, Sources::sure,
                      [&](BranchId, NodeId node) { return g_.negation(r.below_dead[node]); });
    return r;
}

// Where weak plus and weak ground begin.
template <class Gates>
typename Levels<Gates>::Level Levels<Gates>::begin_weak(const Return& r, Sign sign, BranchId without) {
    Level own = level();
    const auto& sources = circuit_.sources;
    if (sign == Sign::plus) {
        for (const SourceId s : sources.ids())
            if (sources[s].minus == r.root) own[sources[s].plus] = g_.either(own[sources[s].plus], alive_[s]);
        return own;
    }
    own[r.root] = g_.constant(true);
    if (passed(r.root) == Sources::stop) return own;
    const Level sinks = spread(own, sign, maybe_, Sources::pass,
                               [&](BranchId b, NodeId) { return g_.constant(lets_pass(b, without)); });
    for (const SourceId s : sources.ids()) {
        Term& to = own[sources[s].minus];
        to = g_.either(to, g_.both(alive_[s], sinks[sources[s].plus]));
    }
    return own;
}

template <class Gates>
const typename Levels<Gates>::Level& Levels<Gates>::weak(std::size_t which, Sign sign, Asked asked) {
    const Return& chassis = returns().front();
    const Return& r = returns()[which];
    (sign == Sign::plus ? asked.plus_end : asked.ground_end) = NodeId{};
    // By the chassis itself, nothing more is known of them.
    const auto forget = [&](NodeId& end, const Level& known) {
        if (end && (r.root == ground_node || g_.is(known[end], false))) end = {};
    };
    forget(asked.ground_end, chassis.up);
    forget(asked.plus_end, chassis.ground);
    const auto key = std::make_tuple(which, sign, asked);
    if (const auto found = weak_.find(key); found != weak_.end()) return found->second;
    const Level &up = chassis.up, &down = chassis.ground;
    const auto held = [&](NodeId node) {
        Term is = (sign == Sign::plus ? r.ground : r.plus)[node];
        if (asked.ground_end) is = g_.either(is, g_.both(up[asked.ground_end], down[node]));
        if (asked.plus_end) is = g_.either(is, g_.both(down[asked.plus_end], up[node]));
        return is;
    };
    Level own = begin_weak(r, sign, asked.without);
    for (const NodeId n : own.ids())
        if (!g_.is(own[n], false)) own[n] = but_not(own[n], held(n));
    Level out = spread(std::move(own), sign, maybe_, passed(r.root), [&](BranchId b, NodeId node) {
        if (!lets_pass(b, asked.without)) return none();
        return g_.negation(held(node));
    });
    return weak_.emplace(key, std::move(out)).first->second;
}

template <class Gates>
typename Levels<Gates>::Answer Levels<Gates>::has(std::size_t which, Sign sign, NodeId node) {
    const Return& r = returns()[which];
    return {(sign == Sign::plus ? r.plus : r.ground)[node], weak(which, sign, Asked{})[node]};
}

template <class Gates>
template <class Ask>
typename Levels<Gates>::Answer Levels<Gates>::in_any(const Ask& ask) {
    Answer out{none(), none()};
    for (std::size_t r = 0; r < returns().size(); ++r) out = either(out, ask(r));
    return out;
}

template <class Gates>
typename Levels<Gates>::Answer Levels<Gates>::input_has_plus(NodeId node) {
    const NodeId own = circuit_.supply_minus ? circuit_.supply_minus : ground_node;
    return in_any([&](std::size_t r) { return both(has(r, Sign::plus, node), has(r, Sign::ground, own)); });
}

template <class Gates>
typename Levels<Gates>::Answer Levels<Gates>::input_is_grounded(NodeId node) {
    const NodeId own = circuit_.supply_minus ? circuit_.supply_minus : ground_node;
    Answer out = in_any([&](std::size_t r) {
        const Answer ground = has(r, Sign::ground, node);
        return Answer{g_.both(ground.must, returns()[r].up[own]), g_.both(ground.may, has(r, Sign::ground, own).may)};
    });
    if (circuit_.supply_plus) out.may = is_fed(circuit_.supply_plus, node).may;
    return {out.must, g_.either(out.must, out.may)};
}

template <class Gates>
typename Levels<Gates>::Answer Levels<Gates>::is_stopped(NodeId lead) {
    const Return& chassis = returns().front();
    Level own = level();
    own[ground_node] = g_.constant(true);
    const Level from_chassis = spread(std::move(own), Sign::plus, maybe_, Sources::pass,
                                      [&](BranchId b, NodeId) { return g_.constant(lets_pass(b, {})); });
    const Term must = g_.both(chassis.ground[lead], chassis.up[lead]);
    const Term may = g_.either(from_chassis[lead], g_.either(is_grounded(lead).may, has_plus(lead).may));
    return {must, g_.either(must, may)};
}

template <class Gates>
typename Levels<Gates>::Answer Levels<Gates>::works(BranchId branch) {
    const Branch& b = circuit_.branches[branch];
    const Term& whole = conducts_[branch];
    return in_any([&](std::size_t which) {
        const Return& r = returns()[which];
        const auto between = [&](NodeId from, NodeId to) {
            const Asked asked{branch, from, to};
            return Answer{g_.both(r.plus[from], r.ground[to]),
                          g_.both(weak(which, Sign::plus, asked)[from], weak(which, Sign::ground, asked)[to])};
        };
        Answer a = between(b.from, b.to);
        if (!b.polar) a = either(a, between(b.to, b.from));
        return both(a, {whole, whole});
    });
}

}  // namespace lanyard::circuit

#include "circuit/level_shorts.hpp"
