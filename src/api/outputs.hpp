// The files that CheckOptions::outputs asks for. `faults`: null where nobody asked about them.
#pragma once

#include <vector>

#include "api/impl.hpp"
#include "report/safety_case.hpp"

namespace lanyard::api {

// `marks`: of the evidence, where the argument or the page is wanted.
void add_outputs(CheckReport& report, const lanyard::Model& model, const std::vector<ClaimResult>& results,
                 const std::vector<EvidenceMark>& marks, const Outputs& wanted, const AnalysedFaults* faults);

}  // namespace lanyard::api
