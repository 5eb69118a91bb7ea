// A run as a table of moments: when, what the driver and the world did, what followed. Only changes are told, and only
// of what can have a say in the claim.
#pragma once

#include <vector>

#include "claims/cone.hpp"
#include "report/film.hpp"
#include "report/layout.hpp"

namespace lanyard::report {

std::vector<Row> moments(const Film& film, const Cone& cone);

}  // namespace lanyard::report
