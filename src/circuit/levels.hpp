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
    Answer input_has_plus(int node);
    Answer input_is_grounded(int node);
    Answer is_stopped(int lead);
    Answer works(int branch);
    Answer is_fed(int plus, int minus) {
        return in_any([&](std::size_t r) { return both(has(r, Sign::plus, plus), has(r, Sign::ground, minus)); });
    }

 private:
    using Level = std::vector<Term>;  // per node; of heights: per height and node
    struct Return {
        int root;
        Level below_dead, above_dead, up, plus, ground;
    };
    // Whom a load's weak levels are asked for: what they leave out, and the ends that they lie between.
    struct Asked {
        int without = -1, plus_end = -1, ground_end = -1;
        friend auto operator<=>(const Asked&, const Asked&) = default;
    };
    // How a spread goes on through sources that it did not begin with.
    enum class Sources { stop, sure, pass };

    Term any(const std::vector<int>& faults);
    Term conducts(std::size_t branch);
    Term alive(std::size_t source);
    Term none() { return g_.constant(false); }
    Level level() { return Level(circuit_.nodes.size(), none()); }
    const Branch& branch(std::size_t b) const { return circuit_.branches[b]; }
    bool is_copper(std::size_t b) const { return !is_consumer(branch(b)); }
    bool is_fuse(std::size_t b) const { return branch(b).kind == BranchKind::fuse; }
    bool in_series() const { return heights_ > 1; }
    Sources passed(int root) const { return passes_sources(circuit_, root) ? Sources::pass : Sources::stop; }
    bool may_be_dead() { return !g_.is(dead_short_, false); }

    const std::vector<Return>& returns();
    void find_shorts();
    void judge_fuse(std::size_t fuse);
    Return levels(int root);
    // Over the branches, each as far as it conducts; entry(branch, node), branch -1 for a source.
    template <class Entry>
    Level spread(Level has, Sign sign, const Level& conducts, Sources sources, const Entry& entry);
    template <class Counts>
    Level heights(int root, Sign sign, const Counts& counts);
    // Whether a short through the fuse is possible at all, for some positions and faults.
    bool on_a_short(std::size_t fuse, int root);
    std::size_t at_height(std::size_t height, int node) const { return height * circuit_.nodes.size() + slot(node); }
    const Level& weak(std::size_t which, Sign sign, Asked asked);
    Level begin_weak(const Return& r, Sign sign, int without);
    // A source (-1), copper, a load that lets current through; all but `without`.
    bool lets_pass(int b, int without) const {
        return b < 0 || (b != without && (is_copper(slot(b)) || branch(slot(b)).lets_through));
    }
    Answer has(std::size_t which, Sign sign, int node);
    template <class Ask>
    Answer in_any(const Ask& ask);

    Answer both(const Answer& a, const Answer& b) { return {g_.both(a.must, b.must), g_.both(a.may, b.may)}; }
    Answer either(const Answer& a, const Answer& b) { return {g_.either(a.must, b.must), g_.either(a.may, b.may)}; }
    Term but_not(const Term& a, const Term& b) { return g_.both(a, g_.negation(b)); }

    const Circuit& circuit_;
    Gates g_;
    std::vector<int> roots_;
    std::size_t heights_;
    Level conducts_;      // per branch
    Level alive_;         // per source
    Level dead_;          // per source: it is live, and on a dead short
    Term dead_short_;     // any of them
    Level sure_, maybe_;  // per branch: conducts, whatever fuses blow; conducts, unless it is a fuse that surely blows
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
            const WiredInput& i = m.wired_inputs[slot(p.index)];
            return i.pulled_up ? w.input_is_grounded(i.node) : w.input_has_plus(i.node);
        }
        case ProbeKind::supply:
            return w.is_fed(c.supply_plus, c.supply_minus);
        case ProbeKind::field:
            return w.works(c.sources[slot(p.index)].winding);
        case ProbeKind::node:
            return w.has_plus(p.index);
        case ProbeKind::magneto:
            return w.is_stopped(c.magneto_lead[slot(p.index)]);
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
    for (std::size_t b = 0; b < circuit.branches.size(); ++b) conducts_.push_back(conducts(b));
    for (std::size_t s = 0; s < circuit.sources.size(); ++s) alive_.push_back(alive(s));
}

template <class Gates>
typename Gates::Term Levels<Gates>::any(const std::vector<int>& faults) {
    Term any = none();
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
    find_shorts();
    for (const int root : roots_) returns_.push_back(levels(root));
    return returns_;
}

template <class Gates>
typename Levels<Gates>::Return Levels<Gates>::levels(int root) {
    Return r{root, level(), level(), level(), level(), level()};
    const auto& sources = circuit_.sources;
    if (may_be_dead()) {
        for (std::size_t s = 0; s < sources.size(); ++s)
            for (const auto& [level, node] :
                 {std::pair(&r.below_dead, sources[s].plus), std::pair(&r.above_dead, sources[s].minus)})
                if (node != root) (*level)[slot(node)] = g_.either((*level)[slot(node)], dead_[s]);
        const auto short_of_root = [&](int b, int node) {
            return g_.constant(node != root && (b < 0 || is_copper(slot(b))));
        };
        r.below_dead = spread(std::move(r.below_dead), Sign::plus, conducts_, passed(root), short_of_root);
        r.above_dead = spread(std::move(r.above_dead), Sign::ground, conducts_, passed(root), short_of_root);
    }
    r.up[slot(root)] = r.ground[slot(root)] = g_.constant(true);
    r.up = spread(std::move(r.up), Sign::plus, sure_, Sources::stop,
                  [&](int, int node) { return g_.negation(r.above_dead[slot(node)]); });
    const auto in_order = [&](int node) { return node == root ? none() : g_.negation(r.above_dead[slot(node)]); };
    for (std::size_t s = 0; s < sources.size(); ++s) {
        Term& to = r.plus[slot(sources[s].plus)];
        const Term gives = g_.both(but_not(alive_[s], dead_[s]), in_order(sources[s].plus));
        to = g_.either(to, g_.both(gives, r.up[slot(sources[s].minus)]));
    }
    r.plus = spread(std::move(r.plus), Sign::plus, sure_, Sources::sure, [&](int, int node) { return in_order(node); });
    r.ground = spread(std::move(r.ground), Sign::ground, sure_, Sources::sure,
                      [&](int, int node) { return g_.negation(r.below_dead[slot(node)]); });
    return r;
}

// Where weak plus and weak ground begin.
template <class Gates>
typename Levels<Gates>::Level Levels<Gates>::begin_weak(const Return& r, Sign sign, int without) {
    Level own = level();
    const auto& sources = circuit_.sources;
    if (sign == Sign::plus) {
        for (std::size_t s = 0; s < sources.size(); ++s)
            if (sources[s].minus == r.root)
                own[slot(sources[s].plus)] = g_.either(own[slot(sources[s].plus)], alive_[s]);
        return own;
    }
    own[slot(r.root)] = g_.constant(true);
    if (passed(r.root) == Sources::stop) return own;
    const Level sinks =
        spread(own, sign, maybe_, Sources::pass, [&](int b, int) { return g_.constant(lets_pass(b, without)); });
    for (std::size_t s = 0; s < sources.size(); ++s) {
        Term& to = own[slot(sources[s].minus)];
        to = g_.either(to, g_.both(alive_[s], sinks[slot(sources[s].plus)]));
    }
    return own;
}

template <class Gates>
const typename Levels<Gates>::Level& Levels<Gates>::weak(std::size_t which, Sign sign, Asked asked) {
    const Return& chassis = returns().front();
    const Return& r = returns()[which];
    (sign == Sign::plus ? asked.plus_end : asked.ground_end) = -1;
    // By the chassis itself, nothing more is known of them.
    const auto forget = [&](int& end, const Level& known) {
        if (end >= 0 && (r.root == 0 || g_.is(known[slot(end)], false))) end = -1;
    };
    forget(asked.ground_end, chassis.up);
    forget(asked.plus_end, chassis.ground);
    const auto key = std::make_tuple(which, sign, asked);
    if (const auto found = weak_.find(key); found != weak_.end()) return found->second;
    const Level &up = chassis.up, &down = chassis.ground;
    const auto held = [&](int node) {
        Term held = (sign == Sign::plus ? r.ground : r.plus)[slot(node)];
        if (asked.ground_end >= 0) held = g_.either(held, g_.both(up[slot(asked.ground_end)], down[slot(node)]));
        if (asked.plus_end >= 0) held = g_.either(held, g_.both(down[slot(asked.plus_end)], up[slot(node)]));
        return held;
    };
    Level own = begin_weak(r, sign, asked.without);
    for (std::size_t n = 0; n < own.size(); ++n)
        if (!g_.is(own[n], false)) own[n] = but_not(own[n], held(static_cast<int>(n)));
    Level out = spread(std::move(own), sign, maybe_, passed(r.root), [&](int b, int node) {
        if (!lets_pass(b, asked.without)) return none();
        return g_.negation(held(node));
    });
    return weak_.emplace(key, std::move(out)).first->second;
}

template <class Gates>
typename Levels<Gates>::Answer Levels<Gates>::has(std::size_t which, Sign sign, int node) {
    const Return& r = returns()[which];
    return {(sign == Sign::plus ? r.plus : r.ground)[slot(node)], weak(which, sign, Asked{})[slot(node)]};
}

template <class Gates>
template <class Ask>
typename Levels<Gates>::Answer Levels<Gates>::in_any(const Ask& ask) {
    Answer out{none(), none()};
    for (std::size_t r = 0; r < returns().size(); ++r) out = either(out, ask(r));
    return out;
}

template <class Gates>
typename Levels<Gates>::Answer Levels<Gates>::input_has_plus(int node) {
    const int own = std::max(circuit_.supply_minus, 0);
    return in_any([&](std::size_t r) { return both(has(r, Sign::plus, node), has(r, Sign::ground, own)); });
}

template <class Gates>
typename Levels<Gates>::Answer Levels<Gates>::input_is_grounded(int node) {
    const int own = std::max(circuit_.supply_minus, 0);
    Answer out = in_any([&](std::size_t r) {
        const Answer ground = has(r, Sign::ground, node);
        return Answer{g_.both(ground.must, returns()[r].up[slot(own)]),
                      g_.both(ground.may, has(r, Sign::ground, own).may)};
    });
    if (circuit_.supply_plus >= 0) out.may = is_fed(circuit_.supply_plus, node).may;
    return {out.must, g_.either(out.must, out.may)};
}

template <class Gates>
typename Levels<Gates>::Answer Levels<Gates>::is_stopped(int lead) {
    const Return& chassis = returns().front();
    Level own = level();
    own[0] = g_.constant(true);
    const Level from_chassis = spread(std::move(own), Sign::plus, maybe_, Sources::pass,
                                      [&](int b, int) { return g_.constant(lets_pass(b, -1)); });
    const Term must = g_.both(chassis.ground[slot(lead)], chassis.up[slot(lead)]);
    const Term may = g_.either(from_chassis[slot(lead)], g_.either(is_grounded(lead).may, has_plus(lead).may));
    return {must, g_.either(must, may)};
}

template <class Gates>
typename Levels<Gates>::Answer Levels<Gates>::works(int branch) {
    const Branch& b = circuit_.branches[slot(branch)];
    const Term& whole = conducts_[slot(branch)];
    return in_any([&](std::size_t which) {
        const Return& r = returns()[which];
        const auto between = [&](int from, int to) {
            const Asked asked{branch, from, to};
            return Answer{
                g_.both(r.plus[slot(from)], r.ground[slot(to)]),
                g_.both(weak(which, Sign::plus, asked)[slot(from)], weak(which, Sign::ground, asked)[slot(to)])};
        };
        Answer a = between(b.from, b.to);
        if (!b.polar) a = either(a, between(b.to, b.from));
        return both(a, {whole, whole});
    });
}

}  // namespace lanyard

#include "circuit/level_shorts.hpp"
