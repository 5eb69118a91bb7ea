// The way into a trap, made plainer.
#pragma once

#include "prove/ask.hpp"

namespace lanyard::prove {

// A run into the trap that is no less ordinary than `run`, which leads into it too, and the question that the closed
// set answers there: what follows that run. Checked anew; nothing if that does not hold, or is not settled.
std::optional<Question> behind_settled(const Question& q, const Run& run, const Certificate& closed,
                                       const JudgeOptions& options);

}  // namespace lanyard::prove
