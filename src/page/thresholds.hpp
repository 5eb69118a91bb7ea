// The numbers with which logic and claim compare a signal.
#pragma once

#include <vector>

#include "claims/cone.hpp"

namespace lanyard::page {

// Rising, each once; the first few of them. Of logic and outputs in the cone, and of the claim (null: none).
std::vector<Rational> thresholds_of(const Model& model, const Cone& cone, SignalId signal, const Claim* claim);

}  // namespace lanyard::page
