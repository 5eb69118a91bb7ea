// What a fault does to the loads, and when somebody would notice.
#pragma once

#include <string>
#include <vector>

#include "claims/faults.hpp"
#include "fault/alike.hpp"
#include "model/model.hpp"

namespace lanyard::fault {

// Plays the examples of the claims, and random runs, with each fault there from the start and without it.
// `groups`: of faults that are alike.
std::vector<Effect> effects_of(const Model& model, const FaultGroups& groups, const std::vector<ClaimFaults>& claims);

}  // namespace lanyard::fault
