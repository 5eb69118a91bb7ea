// What of a model can have a say in a claim: followed backwards from the claim's names through definitions, feeds,
// relays, sensors, the supply and the engine.
#pragma once

#include <set>
#include <vector>

#include "model/model.hpp"

namespace lanyard {

struct Cone {
    std::set<SignalId> signals;
    std::set<ElementId> elements;
    bool has(SignalId id) const { return signals.contains(id); }
};

// Without a claim (-1): what the condition alone depends on.
Cone cone_of(const Model& model, int condition, int claim);

Cone whole_model(const Model& model);

}  // namespace lanyard
