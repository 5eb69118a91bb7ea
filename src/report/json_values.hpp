// The pieces of result and run files.
#pragma once

#include <nlohmann/json.hpp>
#include <string>

#include "claims/verdict.hpp"
#include "model/model.hpp"
#include "report/header.hpp"

namespace lanyard::report {

using Json = nlohmann::ordered_json;

// "model", "lanyard", "solver": what stands first.
Json head_json(const Model& model, const Versions& versions);
// Numeric signals that the world chooses, with their units: {"oil_pressure": "psi"}.
Json units_json(const Model& model);
Json run_to_json(const Model& model, const Run& run);
Json certificate_to_json(const Certificate& certificate);

}  // namespace lanyard::report
