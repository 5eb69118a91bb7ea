// What of a model can have a say in a claim: followed backwards from the claim's names through definitions, feeds,
// relays, sensors, the supply and the engine.
#pragma once

#include <set>
#include <vector>

#include "model/model.hpp"

namespace lanyard::report {

struct Cone {
    std::set<SignalId> signals;
    std::set<ElementId> elements;
    bool has(SignalId id) const { return signals.contains(id); }
};

// Without a claim (-1): everything.
Cone cone_of(const Model& model, int condition, int claim);

// The expressions that a claim is made of.
std::vector<ExprPtr> expressions_of(const Claim& claim);

}  // namespace lanyard::report
