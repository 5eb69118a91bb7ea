// Models of small wirings made at random, and the states to look at them in.
#pragma once

#include "ohm_judge.hpp"

namespace lanyard::test::ohm {

using namespace sim;

// `most`: parts beside the first battery.
Json random_model(Dice& dice, unsigned most);

// States of a model: every position with no fault and with each alone, and pairs where `pairs`; at most so many of
// them, picked at random.
std::vector<State> states_of(const Net& net, const Model& m, Dice& dice, std::size_t at_most, bool pairs);

}  // namespace lanyard::test::ohm
