// Recoverable claims: from every state that can be reached, can the goal be reached again?
#pragma once

#include "prove/ask.hpp"

namespace lanyard::prove {

// The verdict on a claim of the kind recoverable. `question` is about that claim, with its leaps settled. Throws
// InternalError.
Verdict recover(const Question& question, const JudgeOptions& options, Timing& timing, std::string& prover);

}  // namespace lanyard::prove
