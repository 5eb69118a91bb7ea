// From a claim to a checked verdict.
#pragma once

#include "prove/ask.hpp"

namespace lanyard {

// Throws InternalError.
ClaimResult judge(const Model& model, ClaimId claim, const JudgeOptions& options);

}  // namespace lanyard
