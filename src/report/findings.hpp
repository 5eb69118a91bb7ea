// What was seen in the wiring, for people and for programs.
#pragma once

#include <string>
#include <vector>

#include "circuit/finding.hpp"
#include "report/json_values.hpp"

namespace lanyard::report {

// Complete lines; empty if there is nothing.
std::string findings_text(const std::vector<WiringFinding>& findings);

Json findings_json(const std::vector<WiringFinding>& findings);

}  // namespace lanyard::report
