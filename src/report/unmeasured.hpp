// Numbers of common practice that a run rests on: filled in because the file does not say them, measured by nobody.
#pragma once

#include <string>
#include <vector>

#include "report/cone.hpp"
#include "report/film.hpp"

namespace lanyard::report {

std::vector<std::string> unmeasured_numbers(const Film& film, const Cone& cone, int condition);

}  // namespace lanyard::report
