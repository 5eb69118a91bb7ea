// The minimal sets of faults that break a claim of the timed system, and that there are no others.
#pragma once

#include "claims/faults.hpp"
#include "fault/alike.hpp"
#include "fault/with_faults.hpp"
#include "prove/ask.hpp"

namespace lanyard::fault {

struct CutOptions {
    int order = 1;                // sets of at most so many faults
    std::vector<FaultId> faults;  // that are asked about; rising
    bool from_the_start = false;
    FaultGroups groups;  // of them, those that are alike together
};

// The claim is taken to hold without faults. Throws InternalError.
ClaimFaults find_cut_sets(const Model& model, ClaimId claim, const CutOptions& options, const JudgeOptions& judge);

}  // namespace lanyard::fault
