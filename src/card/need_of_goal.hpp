// How far it is to where a goal is brought about: see need.hpp.
#pragma once

#include "card/goals.hpp"
#include "card/need.hpp"

namespace lanyard::card {

Need need_of(const Points& points, const Distance& distance, const Goal& goal, const Rest& here);

}  // namespace lanyard::card
