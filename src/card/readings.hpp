// What is read in a step: where to look, what is expected there, and what a stopwatch shows.
#pragma once

#include <string>
#include <vector>

#include "card/played.hpp"
#include "claims/card.hpp"

namespace lanyard::card {

// Numbered from `first` on. Where a test shows at several places, one is enough: where somebody looks anyway.
std::vector<CardReading> readings_of(const Model& user, const Points& points, const Played& played, std::size_t step,
                                     int first);
// "4.02 s, until starter changes"; empty: at once.
std::string wait_words(const Model& user, const Points& points, const Rest& after);

}  // namespace lanyard::card
