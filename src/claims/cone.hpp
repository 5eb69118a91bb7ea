// What of a model can have a say in a claim: followed backwards from the claim's names through definitions, feeds,
// relays, sensors, the supply and the engine.
#pragma once

#include <functional>
#include <set>
#include <vector>

#include "model/model.hpp"

namespace lanyard::claims {

struct Cone {
    std::set<SignalId> signals;
    std::set<ElementId> elements;
    bool has(SignalId id) const { return signals.contains(id); }
};

// Who knows better than "a circuit hangs together" what of the wiring has a say in a load, a contact, an input, a node
// or the controller's power (`id`): calls `add` with the signals of switches, relays and outputs there.
using FollowWiring = std::function<void(SignalId id, const std::function<void(SignalId)>& add)>;

// Without a claim (-1): what the condition alone depends on. `with`: quantities that are looked at all the same.
Cone cone_of(const Model& model, ConditionId condition, ClaimId claim, const FollowWiring& wiring = {},
             const std::vector<QuantityId>& with = {});

// One step of that only: what the signal is directly made of, apart from what `healthy` says of quantities.
Cone sources_of(const Model& model, SignalId id, const FollowWiring& wiring = {});

Cone whole_model(const Model& model);

}  // namespace lanyard::claims
