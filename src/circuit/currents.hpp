// What may be drawn through one branch of the wiring.
//
// What it decides: the largest sum of what loads and coils draw that hang on the branch and can be on together. A
// consumer hangs on the branch if
//   - its one end is reached from the far end of the branch, through anything that conducts when closed, but not
//     through the branch itself, another consumer, a source or the chassis;
//   - its other end reaches the other pole of the supply without passing another consumer;
//   - nothing else feeds it always: without the branch no battery reaches it through wires, terminals, fuses and
//     diodes alone. So two fuses side by side share, and neither is blamed.
// Both halves of a change-over contact, of a half bridge, and contacts of one switch or relay that close in different
// positions are never closed together: the positions of such devices are tried in all combinations.
//
// Why it is sound: each sum belongs to positions that switches, relays and outputs can have by themselves. It may be
// too large in that the logic never commands them together, and too small in what does not say what it draws.
//
// When it gives up: with more than `most_devices` such devices behind one branch everything counts as closed, and the
// sum is one that may never come about (`at_most`).
// Tested by: tests/findings/wires_test.cpp
#pragma once

#include <optional>

#include "circuit/net.hpp"

namespace lanyard::circuit {

struct Drawn {
    Rational amps = 0;
    std::vector<BranchId> consumers;  // branches, rising
    int unknown = 0;                  // how many of them do not say what they draw
    bool at_most = false;
};

// For current that enters the branch at `in`; nothing if `in` is not fed without it.
std::optional<Drawn> drawn_through(const Net& net, BranchId branch, NodeId in, Sign sign);
// The larger one of the two directions.
std::optional<Drawn> drawn_through(const Net& net, BranchId branch, Sign sign);

// "`pump` 8 A, `fan` 12 A and 2 more that do not say what they draw"
std::string drawn_text(const Net& net, const Drawn& drawn);
// "12 A"
std::string amps_text(const Rational& amps);

}  // namespace lanyard::circuit
