// Playbooks: what a driver does, and where need be the world, to get to a goal from wherever he is.
#pragma once

#include <memory>
#include <optional>
#include <string>

#include "claims/run.hpp"
#include "model/model.hpp"

namespace lanyard::prove {

// Longer than any clock that has a say in the claim, two in a row as well; in whole seconds.
Rational settling_time(const Model& model, ClaimId claim);

// How a playbook is made of a run that gets to the goal.
struct PlaybookStyle {
    bool patient = true;  // each step lasts until everything that runs by a clock has settled, not only as in the run
    bool world = false;   // quantities that move in the run are held to move so
};

// The steps of the part of a run that follows its first `scans` scans, which is obeyed under `claim` of the model.
std::vector<Phase> steps_of(const Model& model, ClaimId claim, const Run& run, long scans, const PlaybookStyle& style);

// Of two playbooks the same only if they are the same.
std::string text_of(const std::vector<Phase>& playbook);

// The model with one more claim at its end: from every state that is reachable under the recoverable claim's first
// condition, these steps lead to its goal, under its second condition. Nothing if they take longer than the claim
// gives.
std::shared_ptr<const Model> with_playbook(const Model& model, ClaimId claim, std::vector<Phase> steps);

}  // namespace lanyard::prove
