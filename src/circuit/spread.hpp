// How plus and ground get from node to node.
#pragma once

#include <vector>

#include "model/circuit.hpp"

namespace lanyard {

enum class Sign { plus, ground };

using NodeSet = std::vector<bool>;                 // per node
using BranchesAt = std::vector<std::vector<int>>;  // per node

inline bool is_consumer(const Branch& b) { return b.kind == BranchKind::load || b.kind == BranchKind::coil; }

inline int other_end(const Branch& b, int node) { return b.from == node ? b.to : b.from; }

inline BranchesAt branches_at(const Circuit& circuit) {
    BranchesAt at(circuit.nodes.size());
    for (std::size_t b = 0; b < circuit.branches.size(); ++b) {
        at[static_cast<std::size_t>(circuit.branches[b].from)].push_back(static_cast<int>(b));
        at[static_cast<std::size_t>(circuit.branches[b].to)].push_back(static_cast<int>(b));
    }
    return at;
}

// Plus passes a diode forwards only, and ground backwards only.
inline bool passes_diode(const Branch& b, int from, Sign sign) {
    return b.kind != BranchKind::diode || (b.from == from) == (sign == Sign::plus);
}

// Adds to `has` what it reaches, nearest first. `into(branch, here, there)` tells whether it may go from the one node
// to the other.
template <class Into>
void spread(const Circuit& circuit, const BranchesAt& at, NodeSet& has, const Into& into) {
    std::vector<int> open;
    for (std::size_t n = 0; n < has.size(); ++n)
        if (has[n]) open.push_back(static_cast<int>(n));
    for (std::size_t next = 0; next < open.size(); ++next) {
        const int here = open[next];
        for (const int b : at[static_cast<std::size_t>(here)]) {
            const int there = other_end(circuit.branches[static_cast<std::size_t>(b)], here);
            if (has[static_cast<std::size_t>(there)] || !into(b, here, there)) continue;
            has[static_cast<std::size_t>(there)] = true;
            open.push_back(there);
        }
    }
}

}  // namespace lanyard
