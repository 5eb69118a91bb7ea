// From a claim to a checked verdict.
#pragma once

#include "prove/ask.hpp"

namespace lanyard::prove {

// Throws InternalError.
ClaimResult judge(const Model& model, ClaimId claim, const JudgeOptions& options);

// What is proved and rests on nothing is true whatever the logic does: vacuous, with the same certificate. For verdicts
// that stand for themselves: whoever asks what faults or changes do to a claim needs its proof.
void tell_tautology(ClaimResult& result);

}  // namespace lanyard::prove
