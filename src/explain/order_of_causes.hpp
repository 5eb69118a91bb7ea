// Which of several causes is told first.
//
// What it decides. A claim is also kept by never switching anything on, and whoever reads that learns nothing about the
// logic. So each cause's other run is played to the scan at which the refuting run breaks the claim. Those in which the
// claim's premise is gone - what it is about never comes - go behind the others; of the rest, and of those among each
// other, the fewer nodes of the wiring have lost their plus, compared with the refuting run, the further in front. Of
// equals the earlier event goes first. Nothing is left out.
// Tested by: tests/explain/causes_test.cpp
#pragma once

#include <vector>

#include "claims/causes.hpp"
#include "explain/premise.hpp"
#include "model/model.hpp"

namespace lanyard::explain {

void put_nearest_first(const Model& model, const Run& run, ClaimId claim, const Premise& premise,
                       std::vector<RunCause>& causes);

}  // namespace lanyard::explain
