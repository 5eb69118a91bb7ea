// A run as files of its own, for the evidence folder.
#pragma once

#include <string>

#include "claims/run.hpp"
#include "model/model.hpp"
#include "report/header.hpp"

namespace lanyard::report {

// What the world chose, exactly, segment by segment; with a line end. `claim` is an index in Model::claims.
std::string run_json(const Model& model, const Run& run, ClaimId claim, const Versions& versions);

// All signals over time (IEEE 1364 value change dump). Plays the run; it has to be a legal one.
std::string run_vcd(const Model& model, const Run& run, ClaimId claim, const Versions& versions);

}  // namespace lanyard::report
