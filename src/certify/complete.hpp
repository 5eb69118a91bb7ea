// From what the solver chose to a whole run: what the claim's cone does not touch is filled in, delayed readings
// get values that the sensor can show, and every scan is played by the interpreter on the way.
#pragma once

#include <optional>

#include "claims/question.hpp"
#include "encode/unroll.hpp"

namespace lanyard::certify {

// Scan by scan, without a look ahead: a quantity that has to move may be led where it has no way on. Then, and if some
// scan cannot be played, nothing is returned, and `why` tells the rule: what the solver chose is never changed. Whoever
// asks for the run adds those quantities to the question (with_binding_quantities()) and lets the solver choose them
// too.
std::optional<Run> complete(const Question& q, const PartialRun& partial, std::string& why);

}  // namespace lanyard::certify
