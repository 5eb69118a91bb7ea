// The files that CheckOptions::outputs asks for.
#pragma once

#include <vector>

#include "api/impl.hpp"
#include "claims/card.hpp"
#include "report/safety_case.hpp"

namespace lanyard::api {

// What was found beside the verdicts. Null where nobody asked for it.
struct Beside {
    const AnalysedFaults* faults = nullptr;
    const Card* card = nullptr;
};

// `marks`: of the evidence, where the argument or the page is wanted.
void add_outputs(CheckReport& report, const lanyard::Model& model, const std::vector<ClaimResult>& results,
                 const std::vector<EvidenceMark>& marks, const Outputs& wanted, const Beside& beside);

}  // namespace lanyard::api
