// The steps of a plan played with true times.
#pragma once

#include "card/plan.hpp"

namespace lanyard::card {

struct Lost {
    Reached reached;
    std::string why;
};

struct Played {
    std::vector<Rest> rests;  // [0] before the first step; ends at rest
    std::vector<Reached> confirmed;
    std::vector<Lost> lost;                    // true with short clocks only, or there was no time for it
    std::vector<std::vector<SignalId>> shown;  // per confirmed goal: where
};

// Once `stop` is raised no step is begun but the one back to rest; what is left then is lost for the reason `outside`.
// Throws InternalError if the model as it stood before its logic was taken apart behaves otherwise.
Played played(const Model& user, const Points& points, const Plan& plan, const StopFlag& stop,
              const std::string& outside);

}  // namespace lanyard::card
