#include "circuit/freed.hpp"

#include "base/slot.hpp"

namespace lanyard {

FreedWiring freed_wiring(const Model& m) {
    FreedWiring out{m.circuit, static_cast<int>(m.faults.size()), {}};
    Circuit& c = out.circuit;
    const auto change = [&out](FreedWiring::Piece of) {
        out.pieces.push_back(of);
        return out.first + static_cast<int>(out.pieces.size()) - 1;
    };
    for (std::size_t b = 0; b < m.circuit.branches.size(); ++b) {
        const Branch& was = m.circuit.branches[b];
        const FreedWiring::Piece of{static_cast<int>(b), -1};
        if (was.kind == BranchKind::stray) continue;  // a fault's own
        c.branches[b].opened_by.push_back(change(of));
        if (was.kind == BranchKind::diode) c.branches[b].closed_by.push_back(change(of));
        if (was.kind != BranchKind::fuse) continue;
        Branch bridge;
        bridge.kind = BranchKind::stray;
        bridge.from = was.from;
        bridge.to = was.to;
        bridge.name = was.name;
        bridge.closed_by.push_back(change(of));
        c.add(std::move(bridge));
    }
    for (std::size_t s = 0; s < c.sources.size(); ++s)
        c.sources[s].dead_by.push_back(change({-1, static_cast<int>(s)}));
    return out;
}

}  // namespace lanyard
