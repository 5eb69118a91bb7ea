// Whether a step shows what a goal wants to be shown.
#pragma once

#include <optional>

#include "card/goals.hpp"
#include "card/player.hpp"

namespace lanyard::card {

Combination combination_at(const Decision& decision, const Rest& rest);
// An input of a memory element.
bool value_at(const Rest& rest, const Expr& input);
// On which edge a timer waits: TON before it goes on, the others before they go off.
bool goes_late_to(const Memory& timer);
// The controller has no power, and this was on when it went.
bool waits_for_power(const Memory& latch, const Rest& here);

// Combinations in passing: the longest stretch of scans, `to` not among them, that ends by a change of a condition.
struct Passage {
    long from = 0, to = 0;
};
std::optional<Passage> passage(const Points& points, const Goal& goal, const Rest& before, const Rest& after);
// Delays: the scan at which the timer's output changes by time alone.
std::optional<long> late_change(const Points& points, const Goal& goal, const Rest& after);

// The step from one rest to the next brings the goal about (whether or not it shows).
bool brings(const Points& points, const Goal& goal, const Rest& before, const Rest& after);

}  // namespace lanyard::card
