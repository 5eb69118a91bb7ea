// Which nodes of the wiring have plus and which have ground, for given positions of everything that switches.
//
// What it decides: four levels for each node, as least fixpoints over what conducts:
//
//   hard ground   the chassis, and what hangs on it through closed contacts and whole wires, but no fuse
//   plus          what hangs on a live source through closed contacts, whole wires and fuses. A source is live only
//                 with hard ground at its other end. Plus does not pass a fuse into hard ground: there it blows. The
//                 chassis never has plus.
//   ground        hard ground, and what hangs on it through fuses. Ground does not pass a fuse into plus.
//   weak plus     plus, and what plus reaches through loads and coils that let current through, by way of nodes that
//                 have no ground. Weak ground likewise, by way of nodes that have no plus.
//
// A node with plus and ground is a dead short that no fuse clears: it may be anything. A load works for sure between
// plus and ground (neither of them short), and may work between weak plus and weak ground that it does not make
// itself. Plus passes a diode forwards only, and ground backwards only.
//
// Why it is sound: nodes at plus or ground are held there, so current to others can only come through nodes that
// are not; a load works only if current passes it. "May" errs to the side of working: a branch that leads nowhere off
// a string of loads in series counts as fed.
//
// What it leaves out: resistances, voltage drops, currents, the time that a fuse takes to blow (it opens at once, and
// for as long as the short lasts), coils that feed each other by induction. Of several fuses in a row the one nearest
// to the short blows, and the others hold: fuses are taken to be graded. A source without hard ground at its other end
// feeds nothing, not even loads that lie on that other end itself.
//
// The encoding states the same levels as formulas (encode/wiring.cpp); this search is the reference. Tested by
// tests/circuit.
#pragma once

#include <functional>
#include <optional>
#include <vector>

#include "circuit/spread.hpp"
#include "model/model.hpp"

namespace lanyard {

// Between `must` and `may` the world chooses. `must` implies `may`.
struct Fed {
    bool must = false;
    bool may = false;
    bool allows(bool b) const { return b ? may : !must; }
    friend bool operator==(const Fed&, const Fed&) = default;
};

// How plus or ground gets to a node: over these branches, from where it comes from.
struct Way {
    int source = -1;  // plus: of which source
    std::vector<int> branches;
};

class Flow {
 public:
    // closed: per branch, conducts (loads and coils: are whole). both_ways: diodes that are shorted. live: per source.
    Flow(const Circuit& circuit, std::vector<bool> closed, std::vector<bool> both_ways, const std::vector<bool>& live);

    bool plus(int node) const { return plus_[static_cast<std::size_t>(node)]; }
    bool ground(int node) const { return ground_[static_cast<std::size_t>(node)]; }
    bool closed(int branch) const { return closed_[static_cast<std::size_t>(branch)]; }
    bool has(int node, Sign sign) const { return sign == Sign::plus ? plus(node) : ground(node); }
    bool hard_ground(int node) const { return hard_[static_cast<std::size_t>(node)]; }
    const std::vector<int>& branches_at(int node) const { return at_[static_cast<std::size_t>(node)]; }

    // Closed or not: may the branch lead plus (ground) away from its end `here`? Loads and coils never do.
    bool leads(int branch, int here, Sign sign) const;
    // The fuse opens rather than lead plus (ground) on to its end `there`.
    bool blows(int branch, int there, Sign sign) const;
    // The shortest way by which a node has it; null if it has not. Weak: through loads as well, but not this one.
    std::optional<Way> way(int node, Sign sign) const;
    std::optional<Way> weak_way(int node, Sign sign, int without) const;

    Fed has_plus(int node) const;
    Fed is_grounded(int node) const;
    // The load or coil has power; no matter at which voltage.
    Fed works(int branch) const;
    // Something that draws no current between the nodes is fed.
    Fed is_fed(int plus, int minus) const;

 private:
    // The branch by which a node was reached; -1: it is where the search began.
    using Reached = std::vector<int>;
    // Adds to `has` what it reaches; `into` tells whether it may enter the node by the branch.
    void spread(NodeSet& has, Reached& by, Sign sign, const std::function<bool(int branch, int node)>& into) const;
    NodeSet weak(Sign sign, int without) const;
    NodeSet weak(Sign sign, int without, Reached& by) const;
    bool passes(int branch, int here, Sign sign) const;
    bool surely(int node, Sign sign) const;
    const Branch& branch(int b) const { return circuit_.branches[static_cast<std::size_t>(b)]; }
    std::optional<Way> back(int node, Sign sign, const NodeSet& has, const Reached& by) const;

    const Circuit& circuit_;
    std::vector<bool> closed_, both_ways_;
    BranchesAt at_;
    NodeSet hard_, plus_, ground_;
    Reached plus_by_, ground_by_;
    std::vector<int> source_at_;  // per node: the live source that begins there; -1: none
};

}  // namespace lanyard
