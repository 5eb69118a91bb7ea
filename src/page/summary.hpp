// What stands in front of the report: what was found, what to do, what to measure and what to inspect, so short that it
// prints on four pages of A4 whatever the model is. Each list says how much of it is left to the annex.
#pragma once

#include <string>

#include "page/report_page.hpp"

namespace lanyard::page {

std::string summary_of_verdicts(const PageInput& input);
std::string to_do(const PageInput& input);
std::string to_measure(const Model& model);
std::string to_inspect(const Model& model);

}  // namespace lanyard::page
