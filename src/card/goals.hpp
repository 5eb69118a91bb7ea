// What the card is to show, and whether a step shows it.
#pragma once

#include <string>
#include <vector>

#include "card/need.hpp"
#include "card/player.hpp"

namespace lanyard::card {

enum class GoalKind {
    combination,  // of a decision's conditions
    level,        // a sensor at or beside a threshold
    comes_back,   // the same, coming from the other side
    holds,        // a latch stays on by itself
    resets,       // a latch goes off
    delay,        // a timer's time runs out
};

struct Goal {
    GoalKind kind = GoalKind::combination;
    int item = -1;  // in Points::decisions, comparisons or memories
    Combination combination = 0;
    Rational at;            // levels: what the box shows
    bool expected = false;  // levels: what the comparison then says
    SignalId point = -1;    // what is turned over to see where it shows
};

// Goals of thresholds, latches and timers; those of decisions depend on what can be set.
std::vector<Goal> plain_goals(const Points& points);
// Levels beside a threshold that the sensor cannot show.
std::vector<Goal> levels_outside(const Points& points);

// Per input: one round value for each stretch between thresholds, the resting one among them.
std::vector<std::vector<Rational>> values_of(const Points& points);

// The step from one rest to the next brings the goal about (whether or not it shows).
bool brings(const Points& points, const Goal& goal, const Rest& before, const Rest& after);
// Delays: the scan at which the timer's output changes by time alone.
std::optional<long> late_change(const Points& points, const Goal& goal, const Rest& after);
Need need_of(const Points& points, const Distance& distance, const Goal& goal, const Rest& here);
Combination combination_at(const Decision& decision, const Rest& rest);

}  // namespace lanyard::card
