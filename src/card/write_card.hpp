// The card as plain values, from the plan and what playing it gave.
#pragma once

#include "card/played.hpp"
#include "claims/card.hpp"

namespace lanyard::card {

// `player`: of the model with true times.
Card write_card(const Model& user, const Points& points, const Plan& plan, const Played& played, const Player& player);

// What nothing can be shown of.
Card empty_card(const Model& user, const Points& points, const std::string& why);

}  // namespace lanyard::card
