// The steps of a plan played with true times.
#pragma once

#include "card/plan.hpp"

namespace lanyard::card {

struct Played {
    std::vector<Rest> rests;  // [0] before the first step
    std::vector<Reached> confirmed;
    std::vector<Reached> lost;                 // true with short clocks only
    std::vector<std::vector<SignalId>> shown;  // per confirmed goal: where
};

// Throws InternalError if the model as it stood before its logic was taken apart behaves otherwise.
Played played(const Model& user, const Points& points, const Plan& plan);

}  // namespace lanyard::card
