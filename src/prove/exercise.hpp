// The run that is shown with a proof: the claim at work, where one is found with little work.
#pragma once

#include "prove/ask.hpp"

namespace lanyard::prove {

// `plain` is a run in which the claim demands something; so is what is returned, and the interpreter has played it.
// Throws InternalError.
Run exercising_run(const Question& q, const Run& plain, const JudgeOptions& options);

}  // namespace lanyard::prove
