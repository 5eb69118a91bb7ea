#include "circuit/freed.hpp"

namespace lanyard::circuit {

FreedWiring freed_wiring(const Model& m) {
    FreedWiring out{m.circuit, m.faults.size(), {}};
    Circuit& c = out.circuit;
    const auto change = [&out](FreedWiring::Piece of) { return FaultId(out.own_faults + out.pieces.add(of).index()); };
    for (const BranchId b : m.circuit.branches.ids()) {
        const Branch& was = m.circuit.branches[b];
        const FreedWiring::Piece of{b, {}};
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
    for (const SourceId s : c.sources.ids()) c.sources[s].dead_by.push_back(change({{}, s}));
    return out;
}

}  // namespace lanyard::circuit
