// What the card is to show.
#pragma once

#include <string>
#include <vector>

#include "card/points.hpp"

namespace lanyard::card {

enum class GoalKind {
    combination,  // of a decision's conditions
    level,        // a sensor at or beside a threshold
    comes_back,   // the same, coming from the other side
    holds,        // a latch stays on by itself
    resets,       // a latch goes off
    forgets,      // a latch is off after the controller was without power
    keeps,        // a latch is on after the controller was without power
    delay,        // a timer's time runs out
};
bool is_of_latch(GoalKind kind);
bool is_of_comparison(GoalKind kind);
// What lasts shorter than this is not worth a stopwatch.
inline const Rational worth_a_watch(1, 5);

struct Goal {
    GoalKind kind = GoalKind::combination;
    AnyId item;  // in Points::decisions, comparisons or memories
    Combination combination = 0;
    Rational at;            // levels: what the box shows
    bool expected = false;  // levels: what the comparison then says
    SignalId point;         // what is turned over to see where it shows
    bool passing = false;   // combinations: there on the way to rest, until something runs out
};

// Goals of thresholds, latches and timers; those of decisions depend on what can be set.
std::vector<Goal> plain_goals(const Points& points);
// Levels beside a threshold that the sensor cannot show.
std::vector<Goal> levels_outside(const Points& points);

// Per input: one round value for each stretch between thresholds, the resting one among them.
Indexed<BenchInput, std::vector<Rational>> values_of(const Points& points);

}  // namespace lanyard::card
