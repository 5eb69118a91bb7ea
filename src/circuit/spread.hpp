// How plus and ground get from node to node.
#pragma once

#include <algorithm>
#include <vector>

#include "model/circuit.hpp"

namespace lanyard {

enum class Sign { plus, ground };

using NodeSet = std::vector<bool>;  // per node

inline bool is_consumer(const Branch& b) { return b.kind == BranchKind::load || b.kind == BranchKind::coil; }

// Changes with a switch, a relay, an output.
inline bool is_switched(const Branch& b) {
    return b.kind == BranchKind::pole || b.kind == BranchKind::contact || b.kind == BranchKind::output;
}

inline int other_end(const Branch& b, int node) { return b.from == node ? b.to : b.from; }

// The nodes that current may return to: the chassis, and the other ends of sources.
inline std::vector<int> returns_of(const Circuit& circuit) {
    std::vector<int> roots{0};
    for (const Source& s : circuit.sources)
        if (std::find(roots.begin(), roots.end(), s.minus) == roots.end()) roots.push_back(s.minus);
    return roots;
}

// Plus passes a diode forwards only, and ground backwards only.
inline bool passes_diode(const Branch& b, int from, Sign sign) {
    return b.kind != BranchKind::diode || (b.from == from) == (sign == Sign::plus);
}

// Adds to `has` what it reaches, nearest first. `into(branch, here, there)` tells whether it may go from the one node
// to the other.
template <class Into>
void spread(const Circuit& circuit, const std::vector<std::vector<int>>& at, NodeSet& has, const Into& into) {
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
