// In words: why no scan may follow a run.
#pragma once

#include <string>

#include "claims/question.hpp"

namespace lanyard::prove {

// `run`: a dead end of the question, whichever mode the engine goes to; without a scan: not even the first is allowed.
// What cannot be met together at the next scan, and the last two scans.
std::string standstill_words(const Question& q, const Run& run);

// The run with each of the modes that the engine may go to after its last scan, its own first.
std::vector<Run> each_next_mode(const Question& q, const Run& run);

}  // namespace lanyard::prove
