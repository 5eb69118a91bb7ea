// Verdicts as a table for spreadsheets (RFC 4180), one line a claim.
#pragma once

#include <string>
#include <vector>

#include "claims/verdict.hpp"
#include "model/model.hpp"

namespace lanyard {

std::string verdicts_csv(const Model& model, const std::vector<ClaimResult>& results);

}  // namespace lanyard
