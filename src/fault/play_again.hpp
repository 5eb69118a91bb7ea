// Replays a fault-free run with the condition's faults present, changing as little as possible.
#pragma once

#include <functional>

#include "sim/world.hpp"

namespace lanyard::fault {

// `seen` is told of each scan until it answers false. Ends early where no legal scan is found.
void play_again(const Model& model, const World& world, ConditionId condition, ClaimId claim, const Run& run,
                const std::function<bool(const Scan&)>& seen);

// Under the claim's condition: whether it so comes to a scan that shows this, &Scan::goal or &Scan::violated.
bool comes_again_to(bool Scan::*what, const Model& model, ClaimId claim, const Run& run);

}  // namespace lanyard::fault
