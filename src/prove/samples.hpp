// Reachable states, found by walking the system with the solver at random (fixed seeds): raw material for lemmas.
#pragma once

#include <vector>

#include "encode/system.hpp"

namespace lanyard {

// One value per state variable; Booleans are 0 and 1.
using Sample = std::vector<Rational>;

// `walks` walks of `length` steps from the initial state, which is the first sample. Stops early when `budget`
// resource units are used up.
std::vector<Sample> sample_states(const System& s, unsigned seed, int walks, int length, std::uint64_t budget,
                                  std::uint64_t* spent);

}  // namespace lanyard
