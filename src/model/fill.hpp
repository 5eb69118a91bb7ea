// A template with its holes filled: compiled once as it stands, with a name for each hole, and then the compiled
// parameters are put where the names are.
#pragma once

#include <vector>

#include "model/build.hpp"

namespace lanyard {

// The name that stands for filling number `index`.
std::string hole_name(std::size_t index);

// `text` speaks of the fillings, all on/off values, by their names; other names are those of claims. One filling may
// stand in several places: its memory elements keep their numbers, so that each of them is one element still.
ExprPtr fill(Build& b, const LocatedText& text, const std::vector<ExprPtr>& fillings, Element owner);

}  // namespace lanyard
