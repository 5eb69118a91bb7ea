// Results for other programs. Numbers are exact and therefore text; no times, no paths.
#pragma once

#include <string>
#include <vector>

#include "claims/verdict.hpp"
#include "model/model.hpp"
#include "report/header.hpp"

namespace lanyard {

// In the order given, with a line end.
std::string results_json(const Model& model, const std::vector<ClaimResult>& results, const Versions& versions);

}  // namespace lanyard
