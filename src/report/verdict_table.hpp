// Verdicts as a table for spreadsheets (RFC 4180), one line a claim.
#pragma once

#include <string>

#include "report/filmed.hpp"

namespace lanyard::report {

std::string verdicts_csv(const Model& model, const FilmedResults& results);

}  // namespace lanyard::report
