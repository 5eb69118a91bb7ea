// The files that CheckOptions::outputs asks for.
#pragma once

#include <vector>

#include "api/impl.hpp"

namespace lanyard::api {

void add_outputs(CheckReport& report, const lanyard::Model& model, const std::vector<ClaimResult>& results,
                 const Outputs& wanted);

}  // namespace lanyard::api
