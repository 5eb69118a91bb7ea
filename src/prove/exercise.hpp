// The run that is shown with a proof: the claim at work, where one is found with little work.
#pragma once

#include "prove/ask.hpp"

namespace lanyard::prove {

// Of a claim that holds; `leaps` as it was proved. The interpreter has played the run, and the claim demands something
// in it. Nothing: no such run was found. Throws InternalError.
std::optional<Run> exercising_run(const Model& model, ClaimId claim, bool leaps, const JudgeOptions& options);

}  // namespace lanyard::prove
