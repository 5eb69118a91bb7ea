// What may start, move or get hot, and how to take the power from it.
#pragma once

#include <string>
#include <vector>

#include "card/player.hpp"

namespace lanyard::card {

// On, or a duty above 0.
bool is_live(const Value& value);

// Before a step: what gets power by it, even in passing.
std::vector<std::string> cautions(const Model& user, const Points& points, const Rest& before, const Rest& after);

// "breaker off": a switch that takes the power from everything at every step, as played. Empty: none does alone.
std::string stop_words(const Points& points, const Player& player, const std::vector<Rest>& rests);

}  // namespace lanyard::card
