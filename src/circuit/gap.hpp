// What is in the way of plus or ground.
//
// What it decides: of all ways that lead plus (ground) to a node, one on which the fewest things would have to be
// otherwise: branches that are open, fuses that blow into what is on their other side, a source that gives nothing.
// Found by the search for shortest paths (Dijkstra, Numerische Mathematik 1, 1959) with one for each of those and
// nothing for what conducts; among equals one from a source that is live, then the way of the fewest branches, then the
// first in the model's order.
//
// What it is good for: explanations. "What is open on this way feeds the node once it is closed" leaves out that
// closing it may bring about a short.
// Tested by: tests/report/wiring_test.cpp
#pragma once

#include <optional>
#include <vector>

#include "circuit/flow.hpp"

namespace lanyard::circuit {

struct Gap {
    SourceId source;                   // plus: where the way begins
    bool gives_nothing = false;        // that source is not live
    std::vector<BranchId> ungrounded;  // branches that keep hard ground from its other end
    std::vector<BranchId> in_the_way;  // branches, from where the way begins to the node
    std::vector<BranchId> way;         // all its branches
    std::size_t size() const { return ungrounded.size() + in_the_way.size() + (gives_nothing ? 1 : 0); }
};

// Null if nothing leads there. `without`: a branch that the way must not use, or none. `weak`: through loads as well.
std::optional<Gap> gap(const Circuit& circuit, const Flow& flow, const Indexed<Source, bool>& live, NodeId node,
                       Sign sign, BranchId without, bool weak);

}  // namespace lanyard::circuit
