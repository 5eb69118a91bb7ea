// Fault trees for other tools, in the Open-PSA Model Exchange Format (an open standard, version 2.0).
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/diagrams.hpp"
#include "fault/basic_event.hpp"

namespace lanyard::fault {

// The XML text of a fault tree whose top gate `top` is the disjunction of the products `cut_1`, `cut_2` .. - cut sets
// or prime implicants -, with all basic events. Each event has a constant probability, or a rate as a parameter of its
// own with the parameter `mission_time`: `exponential`, or `periodic-test` if it is tested before the mission ends. The
// reader's probability is then chances_at(mission time), not a mean.
// Names become identifiers that every reader takes: letters, digits and `_`, beginning with a letter, different even if
// case does not count. The name as it was stands in <label>; what XML or UTF-8 cannot carry is replaced there.
// Throws std::invalid_argument for events with a problem_of(), and if a rate is given but no mission time (finite,
// above 0); std::out_of_range for numbers of events that do not exist.
std::string mef_text(const std::string& title, const std::vector<BasicEvent>& events,
                     const std::vector<Implicant>& products, std::optional<double> mission_time_hours = std::nullopt);

}  // namespace lanyard::fault
