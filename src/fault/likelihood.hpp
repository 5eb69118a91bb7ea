// From sets of faults to numbers, and to fault trees for other tools.
#pragma once

#include <optional>
#include <string>

#include "claims/faults.hpp"
#include "model/model.hpp"

namespace lanyard::fault {

// Numbers come from Fault::per_hour, test_every and probability. Without a test interval a rate is taken over
// `mission_hours`.
inline constexpr double mission_hours = 1;
Likelihood likelihood_of(const Model& model, const ClaimFaults& claim);

// The claim's sets as an Open-PSA fault tree; nothing, and why, where a fault has no number.
std::optional<std::string> fault_tree_of(const Model& model, const ClaimFaults& claim, std::string& why_not);

}  // namespace lanyard::fault
