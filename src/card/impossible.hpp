// Combinations that no setting was found for, asked of the provers: the claim "never this combination" about the model
// as it stands on the bench goes the way of every claim, with a certificate that is checked.
#pragma once

#include <string>
#include <vector>

#include "card/points.hpp"
#include "prove/driver.hpp"

namespace lanyard::card {

enum class Possibility { impossible, in_passing, undecided };

struct Combined {
    DecisionId decision;
    Combination combination = 0;
    // Which of the conditions are enough for the answer; of impossible ones as few as were found.
    Combination matters = 0;
    Possibility is = Possibility::undecided;
    std::string why;
};

// Fills in the answers. limits.claims is ignored.
void ask_provers(const Points& points, std::vector<Combined>& questions, const DriverOptions& limits);

}  // namespace lanyard::card
