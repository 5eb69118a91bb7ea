// What the card does not show, and why.
#pragma once

#include <vector>

#include "card/played.hpp"
#include "claims/card.hpp"

namespace lanyard::card {

std::vector<CardGap> gaps_of(const Model& user, const Points& points, const Plan& plan, const Played& played);

}  // namespace lanyard::card
