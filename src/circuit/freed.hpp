// The wiring with each of its pieces set free: what could be otherwise with a wire, a fuse, a diode, a load, a source.
//
// Such a change is one more fault, counted behind the model's own, in a copy of the wiring; so the rules of the levels
// (circuit/levels.hpp) are used as they are. A piece may be open; a diode may also pass both ways, and a fuse be
// bridged; a source may be dead. What switches is free by itself (WiringEvent::Kind::conducts).
#pragma once

#include "model/model.hpp"

namespace lanyard {

struct FreedWiring {
    struct Piece {
        int branch = -1;  // of the model's circuit; -1: a source
        int source = -1;
    };
    Circuit circuit;            // branches of the model first, in their order, then the bridges of fuses
    int first = 0;              // the number of the first such fault
    std::vector<Piece> pieces;  // what they are faults of, from `first` on
};

FreedWiring freed_wiring(const Model& model);

}  // namespace lanyard
