// From what the solver chose to a whole run: what the claim's cone does not touch is filled in, delayed readings
// get values that the sensor can show, and every scan is played by the interpreter on the way.
#pragma once

#include <optional>

#include "certify/obligations.hpp"
#include "encode/unroll.hpp"

namespace lanyard {

// Nothing if some scan cannot be played; `why` then tells the rule.
std::optional<Run> complete(const Question& q, const PartialRun& partial, std::string& why);

}  // namespace lanyard
