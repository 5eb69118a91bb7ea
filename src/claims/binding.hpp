// Which quantities may leave a run without a way on, all by themselves. The cone of a claim does not hold them where
// the claim speaks of nothing that they have a say in; but a run that they forbid is none.
#pragma once

#include <vector>

#include "model/model.hpp"

namespace lanyard {

// Under the condition and, where the claim (-1: none) has a first part, under that of its first part.
std::vector<QuantityId> binding_quantities(const Model& model, ConditionId condition, ClaimId claim);

}  // namespace lanyard
