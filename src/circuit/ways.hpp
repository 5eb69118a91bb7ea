// On which ways a node can get plus or ground.
//
// What it decides: for a node, the branches other than consumers that lie on a simple way from it to a source or to
// the chassis, with everything closed. Dead ends are not on such a way: what hangs on a bus has no say in it.
//
// How: every tree that hangs on the rest is taken away leaf by leaf (a leaf is no source and not the chassis), and each
// leaf remembers the branch by which it hung. What remains is the core. The ways of a node are its climb to the core,
// and the part of the core that is joined there. Nodes that always have plus, and those that bare wires hold at the
// chassis, are ends of these ways: what else hangs on them has no say. How they are held is told by their own climb,
// through what always conducts only.
//
// Why it is sound: a branch outside the core and off the climb is on no simple way to an end, so neither plus nor
// ground can come through it. Inside a core with several ends every branch counts, which may be more than there is to
// it. The whole costs as much as one search.
// Tested by: tests/report/wiring_test.cpp, tests/explain/ruled_out_test.cpp
#pragma once

#include <functional>

#include "circuit/net.hpp"

namespace lanyard::circuit {

class Ways {
 public:
    // `more_ends`: nodes at which something else may come in.
    explicit Ways(const Net& net, NodeSet more_ends = {});

    // Calls `pass` for each branch on the ways of `node`, and `visit` for each node on them, `node` included. `seen`
    // are nodes that were visited before; it is kept up.
    void follow(NodeId node, NodeSet& seen, const std::function<void(BranchId branch)>& pass,
                const std::function<void(NodeId node)>& visit) const;
    // The branches alone, rising.
    std::vector<BranchId> of(NodeId node) const;

 private:
    const Net& net_;
    NodeSet ends_;
    Indexed<Node, BranchId> up_;  // by which it hung; none: it is in the core
    Indexed<Branch, bool> cut_;   // something hung on it
    bool is_held(NodeId node) const;
    // Does the branch count at this end of it?
    bool counts(BranchId branch, NodeId node) const;
    void cut_leaves();
};

}  // namespace lanyard::circuit
