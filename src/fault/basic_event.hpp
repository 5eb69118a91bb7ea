// A basic event of a fault tree: something that fails by itself, independently of the others, and how likely it is.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/layers.hpp"

namespace lanyard::fault {

// Either a constant probability, or a constant failure rate, never both. A part with a rate is as new at time 0 and is
// not repaired until a test finds it failed; tests are at the multiples of the interval, take no time, find everything
// and leave the part as new. All parts are tested together at 0: staggered tests are not modelled. Without an interval
// the part is never tested.
struct BasicEvent {
    std::string name;
    std::optional<double> probability;          // 0 .. 1
    std::optional<double> rate_per_hour;        // finite, >= 0
    std::optional<double> test_interval_hours;  // finite, > 0; only with a rate
};

// What is wrong with the numbers or the name; nothing if all is well. One sentence a problem, the first one found.
std::optional<std::string> problem_of(const BasicEvent& event);

// Probabilities that an event has happened and that it has not. Both, since 1 - p of a tiny p, and p of 1 - p, lose
// digits.
struct Chance {
    double failed = 0;
    double works = 1;
};

// Constant, or with time t since the last test (or since 0) 1 - exp(-rate t). At the very moment of a test: as just
// before it, which is the Open-PSA reading as well. `hours` >= 0.
Chance chance_at(const BasicEvent& event, double hours);

// The same for each event. Throws std::invalid_argument with what problem_of() says, or if `hours` is no time.
std::vector<Chance> chances_at(const std::vector<BasicEvent>& events, double hours);

}  // namespace lanyard::fault
