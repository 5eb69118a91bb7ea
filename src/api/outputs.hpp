// The files that CheckOptions::outputs asks for. `faults`: null where nobody asked about them.
#pragma once

#include <vector>

#include "api/impl.hpp"

namespace lanyard::api {

void add_outputs(CheckReport& report, const lanyard::Model& model, const std::vector<ClaimResult>& results,
                 const Outputs& wanted, const AnalysedFaults* faults);

}  // namespace lanyard::api
