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

// JSON Schema of it (keywords shared by draft-07 and 2020-12), with a line end.
std::string result_schema();

}  // namespace lanyard
