// A circuit as a network of resistances, solved for its voltages: what the levels of circuit/flow.hpp leave out, and
// must not contradict.
#pragma once

#include <optional>
#include <vector>

#include "circuits.hpp"

namespace lanyard::test {

struct Voltages {
    std::vector<double> nodes;      // V
    std::vector<double> consumers;  // per branch: V across it, from `from` to `to`; 0 where it is broken
};

// Modified nodal analysis (C.-W. Ho, A. E. Ruehli, P. A. Brennan, IEEE Trans. Circuits and Systems 22, 1975) with
// sources of 12 V, contacts and wires of a micro-ohm, consumers of random resistances, ideal diodes, fuses that blow at
// 10 kA, of several in a row the one nearest to the chassis. Nothing if there is a short that no fuse clears, or if the
// diodes come to no agreement.
std::optional<Voltages> voltages(const Model& m, const Positions& where, sim::Dice& dice);

}  // namespace lanyard::test
