// How the causes of a violation (claims/causes.hpp) are told and marked.
#pragma once

#include <string>
#include <vector>

#include "claims/causes.hpp"
#include "report/json_values.hpp"

namespace lanyard::report {

// Stands behind what is a cause, wherever a run is told.
inline constexpr const char* cause_mark = " *";

// "oil_pressure falls to 12 psi at 2.00 s: if it had stayed at 40 psi, the claim would not be violated"; what the
// claim itself presupposes is told in one line.
std::vector<std::string> cause_sentences(const Model& model, const Run& run, const Causes& causes);
Json causes_json(const Model& model, const Run& run, const Causes& causes);

}  // namespace lanyard::report
