// A model in which one claim is asked with faults.
#pragma once

#include <vector>

#include "model/model.hpp"

namespace lanyard::fault {

struct FaultChoice {
    std::vector<FaultId> faults;  // that may begin, in Model::faults; rising
    int at_most = 1;              // in one run
    bool from_the_start = false;
    bool present = false;  // all of them are there throughout, instead
    std::vector<std::vector<FaultId>> excluded = {};
};

// Those that can be asked about: all of the model's.
std::vector<FaultId> all_faults(const Model& model);

// Copies the model and gives the claim conditions of its own. A claim about leaving a state is asked with faults that
// have begun before.
Model with_faults(const Model& model, ClaimId claim, const FaultChoice& choice);

}  // namespace lanyard::fault
