// Which nodes of the wiring have plus and which have ground, for given positions of everything that switches.
//
// What it decides: four levels for each node, as least fixpoints over what conducts:
//
//   hard ground   the return, and what hangs on it through closed contacts and whole wires, but no fuse
//   plus          what hangs on a live source through closed contacts, whole wires and fuses. A source is live only
//                 with hard ground at its other end. Plus does not pass a fuse into hard ground: there it blows. The
//                 return itself never has plus.
//   ground        hard ground, and what hangs on it through fuses. Ground does not pass a fuse into plus.
//   weak plus     plus, and what plus reaches through loads and coils that let current through, by way of nodes that
//                 have no ground. Weak ground likewise, by way of nodes that have no plus. Both pass a source whose
//                 other end is not the return (two in series).
//
// The return is the chassis. A source whose other end is cut off from the chassis still feeds what lies between its two
// ends: such an end is a return of its own, with levels of its own, in which the chassis is a node like others. What
// works by any return works; plus at a node and ground at another by different returns make no closed loop.
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
// to the short blows, and the others hold: fuses are taken to be graded.
//
// The same levels for all positions at once are in circuit/switching.hpp; this search is the reference. Tested by
// tests/circuit.
#pragma once

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
    int begin = 0;    // node: the source's plus, the return
    std::vector<int> branches;
};

class Flow {
 public:
    // closed: per branch, conducts (loads and coils: are whole). both_ways: diodes that are shorted. live: per source.
    Flow(const Circuit& circuit, std::vector<bool> closed, std::vector<bool> both_ways, std::vector<bool> live);

    // By any return.
    Fed has_plus(int node) const;
    Fed is_grounded(int node) const;  // that is, on the chassis
    // As the controller sees it, whose own ground need not be the chassis.
    Fed input_has_plus(int node) const { return as_seen(node, Sign::plus); }
    Fed input_is_grounded(int node) const { return as_seen(node, Sign::ground); }
    // The load or coil has power; no matter at which voltage.
    Fed works(int branch) const;
    // Something that draws no current between the nodes is fed.
    Fed is_fed(int plus, int minus) const;
    // Between that node and the source's other end.
    Fed field_is_fed(int source) const;

    bool closed(int branch) const { return closed_[static_cast<std::size_t>(branch)]; }
    const std::vector<int>& branches_at(int node) const { return circuit_.at[static_cast<std::size_t>(node)]; }
    // Closed or not: may the branch lead plus (ground) away from its end `here`? Loads and coils never do.
    bool leads(int branch, int here, Sign sign) const;

    // By one return: the chassis, or the one by which the load or coil named last may work.
    void turn_to(int branch);
    int root() const { return shown().root; }
    bool plus(int node) const { return shown().plus[static_cast<std::size_t>(node)]; }
    bool ground(int node) const { return shown().ground[static_cast<std::size_t>(node)]; }
    bool has(int node, Sign sign) const { return sign == Sign::plus ? plus(node) : ground(node); }
    // The fuse opens rather than lead plus (ground) on to its end `there`.
    bool blows(int branch, int there, Sign sign) const { return blows(shown(), branch, there, sign); }
    // The shortest way by which a node has it; null if it has not. Weak: through loads as well, but not this one.
    std::optional<Way> way(int node, Sign sign) const;
    std::optional<Way> weak_way(int node, Sign sign, int without) const;

 private:
    // The branch by which a node was reached; -1: it is where the search began.
    using Reached = std::vector<int>;
    struct Return {
        int root = 0;
        NodeSet hard, plus, ground;
        Reached plus_by, ground_by;
        mutable NodeSet weak_plus, weak_ground;  // once they are asked for
        std::vector<int> source_at;              // per node: the live source that begins there; -1: none
    };

    Return levels(int root) const;
    // Adds to `has` what it reaches; `into` tells whether it may enter the node by the branch.
    template <class Into>
    void spread(NodeSet& has, Reached* by, Sign sign, const Into& into) const;
    NodeSet weak(const Return& r, Sign sign, int without, Reached* by = nullptr) const;
    const NodeSet& weak(const Return& r, Sign sign) const;
    bool passes(int branch, int here, Sign sign) const;
    bool blows(const Return& r, int branch, int there, Sign sign) const;
    static bool surely(const Return& r, Sign sign, int node);
    Fed has(const Return& r, Sign sign, int node) const;
    Fed works(const Return& r, int branch) const;
    Fed as_seen(int node, Sign sign) const;
    template <class Answer>
    Fed by_any(const Answer& answer) const;
    const Return& shown() const { return returns_[shown_]; }
    const Branch& branch(int b) const { return circuit_.branches[static_cast<std::size_t>(b)]; }
    std::optional<Way> back(int node, Sign sign, const NodeSet& has, const Reached& by) const;

    const Circuit& circuit_;
    std::vector<bool> closed_, both_ways_, live_;
    std::vector<Return> returns_;  // the chassis, then those that are cut off from it
    std::size_t shown_ = 0;
};

}  // namespace lanyard
