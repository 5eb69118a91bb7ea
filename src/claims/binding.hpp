// Quantities that can deadlock a run on their own. The cone of a claim leaves them out where the claim uses nothing
// that they affect; but a run that they forbid is spurious.
#pragma once

#include <vector>

#include "model/model.hpp"

namespace lanyard::claims {

// Under the condition and, where the claim (-1: none) has a first part, under that of its first part.
std::vector<QuantityId> binding_quantities(const Model& model, ConditionId condition, ClaimId claim);

}  // namespace lanyard::claims
