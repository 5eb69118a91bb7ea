// Which signals can matter to a claim under a condition: the closure of what its expressions read.
#pragma once

#include <vector>

#include "model/model.hpp"

namespace lanyard {

// Per signal of the model.
std::vector<bool> cone_of(const Model& model, int condition, int claim);

// All expressions of a claim (procedure: goal and until-conditions) and of a condition.
std::vector<ExprPtr> expressions_of(const Claim& claim);

}  // namespace lanyard
