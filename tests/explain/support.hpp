// Models and runs for the tests of explanations: runs are scripts, so that a test reads like what somebody did.
#pragma once

#include <memory>
#include <string>

#include "../models.hpp"
#include "claims/causes.hpp"
#include "claims/run.hpp"

namespace lanyard::test {

using namespace claims;

struct ScriptedRun {
    std::shared_ptr<const Model> model;  // as it is played
    Run run;
};
// Under the claim's condition; without one under `any`.
ScriptedRun scripted(const Model& model, const std::string& script, const std::string& claim = "");

// Whether the legal run breaks the claim.
bool breaks(const Model& model, const Run& run, ClaimId claim);

// What every cause owes: what is marked is otherwise, what came before is as it was, and the run breaks nothing.
void check_causes(const Model& model, const Run& run, ClaimId claim, const Causes& causes);
// Of a trap: and behind the scan at which it was reached the run goes on to the goal.
void check_trap_causes(const Model& model, const Run& run, ClaimId claim, const Causes& causes);

}  // namespace lanyard::test
