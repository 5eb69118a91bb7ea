// The numbers with which logic and claim compare a signal.
#pragma once

#include <set>
#include <vector>

#include "model/model.hpp"

namespace lanyard::page {

// What one of `signals` is compared with: in the claim (null: none) and in those of `logic` that have a definition.
// Rising, each once; the first few of them, those of the claim first.
std::vector<Rational> thresholds_of(const Model& model, const std::set<SignalId>& logic,
                                    const std::set<SignalId>& signals, const Claim* claim);

}  // namespace lanyard::page
