// Assumptions can stop time, and then everything is "proved". Can every run under a condition go on for ever?
#pragma once

#include "prove/ask.hpp"

namespace lanyard {

struct TimeGoesOn {};
struct TimeStops {
    Run run;  // legal, and no scan may follow it; empty: not even the first scan is allowed
};
struct TimeUnknown {
    std::string reason;
};
using TimeVerdict = std::variant<TimeGoesOn, TimeStops, TimeUnknown>;

// Throws InternalError.
TimeVerdict time_goes_on(const Model& model, int condition, const JudgeOptions& options);

}  // namespace lanyard
