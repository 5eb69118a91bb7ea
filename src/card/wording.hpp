// How the card calls things.
#pragma once

#include "card/plan.hpp"
#include "claims/card.hpp"

namespace lanyard::card {

CardSetting setting_words(const Points& points, const BenchInput& input, const Settings& set);
// What differs between two settings; everything that is named by `before` = null.
std::vector<CardSetting> settings_words(const Points& points, const Settings* before, const Settings& set);

// What somebody has to hold, or has pulled off or fed, in both.
std::vector<CardSetting> held_words(const Points& points, const Settings& before, const Settings& set);
std::string decision_name(const Points& points, const Decision& decision);
// "key on, armed off": those of the conditions that `matters` names.
std::string conditions_words(const Points& points, const Decision& decision, Combination v, Combination matters);
// "fired"; and what is shown of it, with the name in front or without.
std::string goal_name(const Points& points, const Goal& goal);
std::string goal_words(const Points& points, const Goal& goal, bool with_name = true);
// In whose definition it stands: a signal of the user's model.
SignalId owner_of(const Points& points, const Goal& goal);
std::string terminal_of(const Model& model, SignalId look);
std::string seconds_words(const Rational& seconds);

}  // namespace lanyard::card
