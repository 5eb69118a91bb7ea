// Which nodes of the wiring have plus and which have ground, for given positions of everything that switches.
//
// What it decides: what must be and what may be, whatever the resistances are. All sources have one voltage. Currents
// are small, or they are those of a short. "Copper" is what conducts without being a load: wires, closed contacts,
// fuses, diodes forwards.
//
// A short is a closed way through sources and copper on which more sources are passed from minus to plus than from plus
// to minus (a battery can be charged, an alternator cannot). A short with no fuse on it is *dead*: it stays. Of the
// fuses on a short any one may open first, then of those that still are on one, until no fuse is on a short. So
//
//   a fuse may be blown     if a short passes it, all other fuses whole
//   a fuse is surely blown  if it is the only fuse of a short through one source, and there is no dead short
//
// The second holds because a fuse that stays whole would close a loop of copper whose only voltage is that of its
// source; with a dead short elsewhere that source may have no voltage left.
//
// When the fuses have opened, short currents flow in dead shorts alone. All levels are reckoned from a return: the
// minus of a source, or the chassis. Potentials are written in voltages of a source above it.
//
//   surely up      potential >= 0: what the return leads to through copper that is surely whole
//   surely plus    potential >= 1: what the plus of a source leads to likewise, if the source is live, is on no dead
//                  short, and its minus is surely up or surely plus (two in series)
//   surely ground  potential <= 0: what leads to the return through copper that is surely whole, or to the plus of such
//                  a source whose minus then is still lower
//
// Copper without short current has one potential, a diode's end is no lower than its beginning: that is why these hold.
// Short current can be only where it comes from the plus of a source on a dead short, and goes to its minus. It raises
// what such a plus leads to through copper (fuses counted as whole), short of the return: that is never surely ground.
// It lowers what leads to such a minus, short of the return: that is never surely up or surely plus. What it raises may
// still be surely plus: where the current flows from u to v and v does not lead to the minus of a dead source, the
// return lies between, and if the way on from v to it does not pass a source downwards (which puts v at 1 or above by
// itself), then with the sure way to u it closes a short without a fuse, on which one more source would be dead.
//
// An input that is pulled up reads ground for sure if its node is surely ground by a return from which the controller's
// own ground is surely up; it may if a load between the controller's plus and the node may be on. One that is pulled
// down reads plus by the same return by which the controller's own ground is ground. A magneto is stopped for sure if
// its lead is joined to the chassis both ways; a diode, a load or plus on the lead leave it open.
//
//   surely on   a load with surely plus at one end and surely ground at the other, by one return
//   maybe plus  what the plus of a live source at the return leads to through copper that is not surely blown, through
//               other loads that let current through, and through other sources, by way of nodes that are not surely
//               ground
//   maybe ground  what leads to the return likewise, by way of nodes that are not surely plus. Where sources do not
//               share one minus, also what leads to the minus of another source whose plus leads to the return
//   maybe on    a load between maybe plus and maybe ground, by one return and not over itself; all others are surely
//   off
//
// Why "surely off" is safe: current through a load flows in a loop, down in potential except through sources. Take any
// potential t between those of the load's two ends. The loop passes t upwards through a source for the last time; from
// there to the load all is above t, while that source's minus, the return to look at, is below: no node there is surely
// ground by that return. From the load on, all is below t up to the first source that is passed upwards; a node that is
// surely plus by that return is above t, so there is none. Between these two sources anything may be, and nothing is
// asked of it. The same argument with the chassis: if the load's ground end is surely up from it, all nodes above t are
// above the chassis, so none of them is surely ground by the chassis (and the other way round). That keeps apart
// loads on one chassis when the battery's own cable to the chassis carries a dead short.
//
// Each level is a least fixpoint: no doubt, and no certainty, keeps itself alive.
//
// What it leaves out: resistances, voltage drops, small currents, different voltages of sources, the time that a fuse
// takes to blow (it opens at once, and for as long as the short lasts), coils that feed each other by induction.
// "Maybe" errs to the side of working: a branch that leads nowhere off a string of loads in series counts as fed.
//
// The same levels for all positions at once are in circuit/levels.hpp; this search is the reference. Tested by
// tests/circuit, against the voltages of networks of resistances.
#pragma once

#include <optional>
#include <vector>

#include "circuit/spread.hpp"
#include "model/model.hpp"

namespace lanyard::circuit {

// Between `must` and `may` the world chooses. `must` implies `may`.
struct Fed {
    bool must = false;
    bool may = false;
    bool allows(bool b) const { return b ? may : !must; }
    friend bool operator==(const Fed&, const Fed&) = default;
};

// How plus or ground gets to a node: over these branches, from where it comes from.
struct Way {
    SourceId source;             // plus: of which source
    NodeId begin = ground_node;  // the source's plus, the return
    std::vector<BranchId> branches;
};

class Flow {
 public:
    // closed: conducts (loads and coils: are whole). both_ways: diodes that are shorted.
    Flow(const Circuit& circuit, Indexed<Branch, bool> closed, Indexed<Branch, bool> both_ways,
         Indexed<Source, bool> live);

    // By any return.
    Fed has_plus(NodeId node) const;
    Fed is_grounded(NodeId node) const;  // that is, on the chassis
    // As the controller sees it, whose own ground need not be the chassis.
    Fed input_has_plus(NodeId node) const;
    Fed input_is_grounded(NodeId node) const;  // pulled up by the controller
    // What the magneto with this lead makes goes to the chassis, or back through the wiring, instead of to the plugs.
    Fed is_stopped(NodeId lead) const;
    // The load, coil or winding has power; no matter at which voltage.
    Fed works(BranchId branch) const;
    // Something that draws no current between the nodes is fed.
    Fed is_fed(NodeId plus, NodeId minus) const;

    bool closed(BranchId branch) const { return closed_[branch]; }
    const std::vector<BranchId>& branches_at(NodeId node) const { return circuit_.at[node]; }
    // Closed or not: may the branch lead plus (ground) away from its end `here`? Loads and coils never do.
    bool leads(BranchId branch, NodeId here, Sign sign) const;
    // What shorts do to a fuse: it opens, or may.
    bool blows(BranchId branch) const { return blown_[branch]; }
    bool may_blow(BranchId branch) const { return may_blow_[branch]; }

    // By one return: the chassis, or the one by which the load or coil named last may work.
    void turn_to(BranchId branch);
    NodeId root() const { return shown().root; }
    bool plus(NodeId node) const { return shown().plus[node]; }
    bool ground(NodeId node) const { return shown().ground[node]; }
    bool has(NodeId node, Sign sign) const { return sign == Sign::plus ? plus(node) : ground(node); }
    // A dead short leads plus to it.
    bool in_doubt(NodeId node) const { return shown().below_dead[node]; }
    // The shortest way by which a node has it for sure; null if it has not. Weak: by which it may have it, through
    // loads as well, but not through this one.
    std::optional<Way> way(NodeId node, Sign sign) const;
    std::optional<Way> weak_way(NodeId node, Sign sign, BranchId without) const;
    // The short that puts a node in doubt, or that passes a fuse: from the plus of a source to its minus.
    std::optional<Way> dead_short(NodeId node) const;
    std::optional<Way> short_through(BranchId fuse) const;

 private:
    // The branch by which a node was reached; none: it is where the search began, or it was reached through a source.
    using Reached = Indexed<Node, BranchId>;
    struct Return {
        NodeId root = ground_node;
        NodeSet up, plus, ground;        // surely
        NodeSet below_dead, above_dead;  // what a dead short leads plus to; what leads to its minus
        Reached plus_by, ground_by;
        Indexed<Node, SourceId> source_at;       // the sure source that begins there
        mutable NodeSet weak_plus, weak_ground;  // once they are asked for
    };
    // May a search pass sources that it did not begin with?
    enum class Sources { stop, pass };
    // Whom a load's weak levels are asked for: what they leave out, and the ends that they lie between.
    struct Asked {
        BranchId without;
        NodeId plus_end, ground_end;
    };

    void find_shorts();
    void judge_fuse(BranchId fuse);
    Return levels(NodeId root) const;
    // Adds to `has` what it reaches; `into(branch, node)` tells whether it may enter the node. No branch: a source.
    template <class Into>
    void spread(NodeSet& has, Reached* by, Sign sign, Sources sources, const Into& into) const;
    // What the plus of the live sources at the return leads to (sign plus), what leads to the return (ground), by
    // copper that `counts`, per height and node: how many sources were passed upwards more than downwards (plus), or
    // may be passed downwards more than upwards still (ground).
    template <class Counts>
    Indexed<Raised, bool> heights(NodeId root, Sign sign, const Counts& counts) const;
    RaisedId at_height(std::size_t height, NodeId node) const { return raised(circuit_, height, node); }
    NodeSet weak(const Return& r, Sign sign, const Asked& asked, Reached* by = nullptr) const;
    const NodeSet& weak(const Return& r, Sign sign) const;
    bool passes(BranchId branch, NodeId here, Sign sign) const;
    bool is_copper(BranchId b) const { return closed(b) && !is_consumer(branch(b)); }
    bool sure_copper(BranchId b) const { return !is_consumer(branch(b)) && !may_blow(b); }
    // A source (no branch), copper that is not surely blown, a load that lets current through.
    bool lets_pass(BranchId b) const { return !b || (is_consumer(branch(b)) ? branch(b).lets_through : !blows(b)); }
    bool is_sure(SourceId source) const { return live_[source] && !dead_[source]; }
    bool in_series() const { return heights_ > 1; }
    Sources passed(NodeId root) const { return passes_sources(circuit_, root) ? Sources::pass : Sources::stop; }
    Fed has(const Return& r, Sign sign, NodeId node) const;
    Fed works(const Return& r, BranchId branch) const;
    template <class Answer>
    Fed by_any(const Answer& answer) const;
    const Return& shown() const { return returns_[shown_]; }
    const Branch& branch(BranchId b) const { return circuit_.branches[b]; }
    std::optional<Way> back(NodeId node, Sign sign, const NodeSet& has, const Reached& by) const;
    // The shortest way over copper that `counts`.
    template <class Counts>
    std::optional<Way> lead(NodeId from, NodeId to, const Counts& counts) const;

    const Circuit& circuit_;
    Indexed<Branch, bool> closed_, both_ways_;
    Indexed<Source, bool> live_;
    std::vector<NodeId> roots_;  // the chassis first
    std::size_t heights_ = 1;
    Indexed<Source, bool> dead_;  // on a dead short
    Indexed<Branch, bool> blown_, may_blow_;
    std::vector<Return> returns_;  // one a root
    std::size_t shown_ = 0;
};

}  // namespace lanyard::circuit
