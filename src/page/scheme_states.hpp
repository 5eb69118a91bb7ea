// How the drawn wiring stands at each moment.
#pragma once

#include "page/scheme.hpp"

namespace lanyard::page {

void scheme_states(const report::Film& film, const std::vector<report::Moment>& moments, Scheme& scheme);

}  // namespace lanyard::page
