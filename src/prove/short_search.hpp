// A question on the side, of which nothing but what is shown depends.
#pragma once

#include "prove/ask.hpp"

namespace lanyard::prove {

// A run that answers the question, if bounded search finds one for at most so many of the solver's resource units; it
// has been replayed. What was kept of other runs of the program is not asked. Throws InternalError.
std::optional<Run> short_search(const Question& q, const JudgeOptions& options, std::uint64_t units);

}  // namespace lanyard::prove
