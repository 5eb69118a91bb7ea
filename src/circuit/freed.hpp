// The wiring with each of its pieces set free: what could be otherwise with a wire, a fuse, a diode, a load, a source.
//
// Such a change is one more fault, counted behind the model's own, in a copy of the wiring; so the rules of the levels
// (circuit/levels.hpp) are used as they are. A piece may be open; a diode may also pass both ways, and a fuse be
// bridged; a source may be dead. What switches is free by itself (WiringEvent::Kind::conducts).
#pragma once

#include "model/model.hpp"

namespace lanyard::circuit {

struct FreedWiring {
    struct Piece {
        BranchId branch;  // of the model's circuit; none: a source
        SourceId source;
    };
    Circuit circuit;             // branches of the model first, in their order, then the bridges of fuses
    std::size_t own_faults = 0;  // so many are the model's
    Indexed<Piece> pieces;       // what the others are faults of
    // None: the fault is the model's.
    Id<Piece> piece_of(FaultId fault) const {
        return fault.index() < own_faults ? Id<Piece>{} : Id<Piece>(fault.index() - own_faults);
    }
};

FreedWiring freed_wiring(const Model& model);

}  // namespace lanyard::circuit
