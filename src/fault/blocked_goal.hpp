// Which faults put the goal of a claim that something is possible out of reach.
#pragma once

#include "fault/cut_search.hpp"

namespace lanyard::fault {

// `example`: a run that reaches the goal without faults. Throws InternalError.
ClaimFaults find_blocking_sets(const Model& model, ClaimId claim, const Run& example, const CutOptions& options,
                               const JudgeOptions& judge);

}  // namespace lanyard::fault
