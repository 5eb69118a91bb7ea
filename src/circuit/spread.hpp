// How plus and ground get from node to node.
#pragma once

#include <algorithm>
#include <vector>

#include "model/circuit.hpp"

namespace lanyard::circuit {

enum class Sign { plus, ground };

using NodeSet = Indexed<Node, bool>;

// A node at a height: how many sources were passed upwards more than downwards.
struct Raised;
using RaisedId = Id<Raised>;
inline RaisedId raised(const Circuit& circuit, std::size_t height, NodeId node) {
    return RaisedId(height * circuit.nodes.size() + node.index());
}

inline bool is_consumer(const Branch& b) {
    return b.kind == BranchKind::load || b.kind == BranchKind::coil || b.kind == BranchKind::winding;
}

// Changes with a switch, a relay, an output.
inline bool is_switched(const Branch& b) {
    return b.kind == BranchKind::pole || b.kind == BranchKind::contact || b.kind == BranchKind::output;
}

inline NodeId other_end(const Branch& b, NodeId node) { return b.from == node ? b.to : b.from; }

// The nodes that current may return to: the chassis, and the other ends of sources.
inline std::vector<NodeId> returns_of(const Circuit& circuit) {
    std::vector<NodeId> roots{ground_node};
    for (const Source& s : circuit.sources)
        if (std::find(roots.begin(), roots.end(), s.minus) == roots.end()) roots.push_back(s.minus);
    return roots;
}

// How many sources a loop may pass upwards more than downwards, with the first one not counted, in steps from 0. Where
// all sources share one minus, a loop comes back to it after the first.
inline std::size_t heights_of(const Circuit& circuit) {
    for (const Source& s : circuit.sources)
        if (s.minus != circuit.sources.front().minus) return circuit.sources.size();
    return 1;
}

// Batteries may stand one upon the other, so that a load may have more than the voltage of one.
inline bool voltages_may_add(const Circuit& circuit) {
    NodeId minus;
    for (const Source& s : circuit.sources) {
        if (s.turns) continue;
        if (minus && s.minus != minus) return true;
        minus = s.minus;
    }
    return false;
}

// By that return, loops pass other sources than those that begin there.
inline bool passes_sources(const Circuit& circuit, NodeId root) {
    return std::any_of(circuit.sources.begin(), circuit.sources.end(),
                       [&](const Source& s) { return s.minus != root; });
}

// The ways through sources: upwards from minus to plus, and downwards through what can be charged. Sign ground: the way
// back. visit(source, here, there, upwards)
template <class Visit>
void for_each_passage(const Circuit& circuit, Sign sign, const Visit& visit) {
    for (const SourceId k : circuit.sources.ids()) {
        const Source& s = circuit.sources[k];
        const bool forwards = sign == Sign::plus;
        visit(k, forwards ? s.minus : s.plus, forwards ? s.plus : s.minus, true);
        if (!s.turns) visit(k, forwards ? s.plus : s.minus, forwards ? s.minus : s.plus, false);
    }
}

// The heights after such a passage. The highest stands for all above it.
inline std::vector<std::size_t> heights_after(std::size_t height, std::size_t heights, Sign sign, bool upwards) {
    std::vector<std::size_t> after;
    const bool top = height + 1 == heights;
    if ((sign == Sign::plus) == upwards) {
        if (sign == Sign::plus || !top) after.push_back(top ? height : height + 1);
    } else {
        if (height > 0) after.push_back(height - 1);
        if (sign == Sign::ground && top) after.push_back(height);
    }
    return after;
}

// Plus passes a diode forwards only, and ground backwards only.
inline bool passes_diode(const Branch& b, NodeId from, Sign sign) {
    return b.kind != BranchKind::diode || (b.from == from) == (sign == Sign::plus);
}

// Adds to `has` what it reaches, nearest first. `into(branch, here, there)` tells whether it may go from the one node
// to the other.
template <class Into>
void spread(const Circuit& circuit, NodeSet& has, const Into& into) {
    std::vector<NodeId> open;
    for (const NodeId n : has.ids())
        if (has[n]) open.push_back(n);
    for (std::size_t next = 0; next < open.size(); ++next) {
        const NodeId here = open[next];
        for (const BranchId b : circuit.at[here]) {
            const NodeId there = other_end(circuit.branches[b], here);
            if (has[there] || !into(b, here, there)) continue;
            has[there] = true;
            open.push_back(there);
        }
    }
}

}  // namespace lanyard::circuit
