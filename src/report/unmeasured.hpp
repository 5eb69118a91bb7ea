// Numbers of common practice that a run rests on: filled in because the file does not say them, measured by nobody.
#pragma once

#include <set>
#include <string>
#include <vector>

#include "claims/cone.hpp"
#include "report/film.hpp"

namespace lanyard::report {

// Of the quantities that `told` names (or their readings); of the whole cone if it is empty.
std::vector<std::string> unmeasured_numbers(const Film& film, const Cone& cone, const std::set<SignalId>& told,
                                            int condition);

}  // namespace lanyard::report
