// A record of a check for somebody to sign: what was checked, what was not, by which version, what has to be looked at
// by hand. Plain text to be printed; the same bytes each time, so that the date stands on a line to be filled in.
#pragma once

#include <string>
#include <vector>

#include "report/safety_case.hpp"

namespace lanyard::report {

std::string check_record(const Model& model, const FilmedResults& results, const std::vector<EvidenceMark>& evidence,
                         const Versions& versions);

}  // namespace lanyard::report
