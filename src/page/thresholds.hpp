// The numbers with which logic and claim compare a signal.
#pragma once

#include <set>
#include <vector>

#include "model/model.hpp"

namespace lanyard::page {

// Rising, each once; the first few of them. Of those of `logic` that have a definition, and of the claim (null: none).
std::vector<Rational> thresholds_of(const Model& model, const std::set<SignalId>& logic, SignalId signal,
                                    const Claim* claim);

}  // namespace lanyard::page
