// What proofs need and what they could spare, told: as text, and as JSON for programs.
#pragma once

#include <string>
#include <vector>

#include "claims/needs.hpp"
#include "report/header.hpp"

namespace lanyard::report {

// "accuracy of oil"
std::string assumption_words(const Model& model, ClaimId claim, const Assumption& assumption);

std::string needs_text(const Model& model, const std::vector<ClaimNeeds>& claims);
std::string needs_json(const Model& model, const std::vector<ClaimNeeds>& claims, const Versions& versions);

}  // namespace lanyard::report
