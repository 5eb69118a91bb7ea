// Does a run end in a closed set, from which nothing leads to the goal?
#pragma once

#include "claims/question.hpp"

namespace lanyard::certify {

// A run in steps that may be leaps: scans in a row with the same choices, while no signal changes.
Run in_steps(const Model& model, const Question& q, const Run& run);

// The state behind which is asked belongs to the closed set.
bool lies_inside(const Question& here, const Certificate& closed);

}  // namespace lanyard::certify
