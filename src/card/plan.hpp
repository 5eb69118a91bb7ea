// Which settings in which order, and what each of them shows.
//
// How: from where the bench stands, the goal that is nearest by a guess (need.hpp) is searched for; the settings found
// are played, and every goal that one of them brings about and that shows at a terminal is done. So neighbouring steps
// differ in one thing, and one step often serves several goals.
//
// Which combinations a decision needs is worked out again when one of them was not found: a combination that the
// provers exclude, that does not last, or that shows nowhere is replaced by others where that can be done.
//
// When it gives up: at the limits (limits.hpp). What is not settled then is listed with the limit as its reason; steps
// that were found are kept.
// Tested by: tests/card/card_test.cpp, tests/card/card_test.py
#pragma once

#include <map>
#include <set>
#include <string>
#include <vector>

#include "card/impossible.hpp"
#include "card/limits.hpp"
#include "card/search.hpp"

namespace lanyard::card {

struct DecisionPlan {
    std::vector<Combination> tests;
    std::vector<std::size_t> not_shown;  // conditions
    std::size_t least = 0;               // of the formula, could everything be set
    bool known_least = true;
    bool too_large = false;
};

// A goal that steps bring about, numbered in Plan::steps.
struct Reached {
    Goal goal;
    std::size_t step = 0;   // brings it about
    std::size_t shown = 0;  // shows it; behind the other where only a later setting does
    bool shows = false;     // false: at no terminal
};

struct NotFound {
    Goal goal;
    std::string why;
};

struct Plan {
    std::vector<Settings> steps;
    Indexed<Decision, DecisionPlan> decisions;
    std::vector<Reached> reached;
    std::vector<NotFound> hidden;     // can be brought about, but shows nowhere and was left out
    std::vector<NotFound> not_found;  // thresholds, latches, timers; combinations at a limit
    std::vector<Combined> excluded;
    std::string cut_by;        // the limit that ended the search; empty: none
    bool never_rests = false;  // neither as it stands nor after any single setting: nothing was searched for
};

// The search takes up to this part of the time; what is left is for playing it.
inline constexpr double part_of_search = 0.7;

Plan make_plan(const Points& points, const Player& player, const Limits& limits);

}  // namespace lanyard::card
