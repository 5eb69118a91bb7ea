// JSON Schemas of what faults, why, mutants and needs write; with a line end.
#pragma once

#include <string>

namespace lanyard {

std::string faults_schema();
std::string why_schema();
std::string mutants_schema();
std::string needs_schema();

}  // namespace lanyard
