// All claims of a model when things break, on several threads, with limits - and the same answers with any number of
// threads.
#pragma once

#include <functional>

#include "fault/cut_search.hpp"
#include "prove/driver.hpp"

namespace lanyard::fault {

struct FaultOptions {
    DriverOptions driver;         // which claims, limits; on_result is not called
    std::vector<FaultId> faults;  // that are asked about; rising
    int order = 1;
    bool from_the_start = false;
    std::function<void(const ClaimFaults&)> on_claim;  // in the order of the claims; never two at once
};

struct FaultAnalysis {
    std::vector<ClaimFaults> claims;  // in the order of options.driver.claims
    FaultGroups groups;               // of faults that are alike
    bool interrupted = false;
};

// Throws InternalError.
FaultAnalysis analyse_faults(const Model& model, const FaultOptions& options);

// A set's story: the claim, refuted by the canonical run of the set, and the model that tells it, in which the claim
// has a condition that names the faults.
struct Told {
    std::shared_ptr<const Model> model;
    ClaimResult result;
};
Told tell(const Model& model, ClaimId claim, const claims::CutSet& set);

}  // namespace lanyard::fault
