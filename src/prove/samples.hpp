// Reachable states: raw material for lemmas. Nothing is proved with them; a bad sample costs a lemma, no more.
#pragma once

#include <vector>

#include "certify/obligations.hpp"

namespace lanyard {

// One value per state variable; Booleans are 0 and 1, numbers that are no whole ones are left out (0).
using Sample = std::vector<long>;

// States met by the interpreter's random runs (fixed seeds), the initial one first, each once.
std::vector<Sample> sample_states(const System& s, const Question& q, unsigned runs, long scans);

}  // namespace lanyard
