// Results for other programs. Numbers are exact and therefore text; no times, no paths.
#pragma once

#include <string>

#include "report/filmed.hpp"
#include "report/header.hpp"

namespace lanyard::report {

// In the order given, with a line end.
std::string results_json(const Model& model, const FilmedResults& results, const Versions& versions);

}  // namespace lanyard::report
