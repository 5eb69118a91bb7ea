// Average probability of failure on demand (PFDavg, IEC 61508-4): the mean of the unavailability over time.
#pragma once

#include <vector>

#include "base/diagrams.hpp"
#include "fault/basic_event.hpp"

namespace lanyard::fault {

struct Average {
    double value = 0;
    double error_bound = 0;  // absolute: the true mean is no further away, roundings included
};

// Mean over 0 .. horizon_hours of the exact probability that the function is true at that moment, for parts as
// BasicEvent describes them. The horizon is the test interval if all parts have the same one, else a common multiple of
// the intervals, or the mission. Not modelled: repair times, imperfect or staggered tests, common causes (unless they
// are basic events of their own). `events` are numbered like those of the structure.
// Throws std::invalid_argument for a horizon that is not finite and above 0, for events with a problem_of() and for too
// few of them; TooLarge if the tests are too many or the rates too high for the horizon.
Average average_unavailability(const Diagrams& s, Function f, const std::vector<BasicEvent>& events,
                               double horizon_hours);

}  // namespace lanyard::fault
