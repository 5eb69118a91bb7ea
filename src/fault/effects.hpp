// What a fault does to the loads, and when somebody would notice.
#pragma once

#include <string>
#include <vector>

#include "claims/faults.hpp"
#include "model/model.hpp"

namespace lanyard {

// How a fault that is there shows. What is not seen in these runs is not proved to stay hidden.
enum class Shows {
    in_use,      // a load does something else while the car is started and driven as its claims have it
    on_a_bench,  // only where a protection is called upon, or switches and quantities are moved at will
    not_seen,    // in none of the runs that were played
};

struct Effect {
    int fault = -1;                // in Model::faults
    std::vector<SignalId> lost;    // loads that lack power where they have it without the fault
    std::vector<SignalId> gained;  // loads that have power where they lack it
    Shows shows = Shows::not_seen;
};

// Plays the examples of the claims, and random runs, with each fault there from the start and without it.
// `faults`: rising.
std::vector<Effect> effects_of(const Model& model, const std::vector<int>& faults,
                               const std::vector<ClaimFaults>& claims);

}  // namespace lanyard
