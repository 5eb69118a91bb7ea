// Assumptions can stop time, and then everything is "proved". Can every run under a condition go on for ever? And, of a
// claim with a second part, every run that the claim speaks of?
#pragma once

#include "prove/ask.hpp"

namespace lanyard::prove {

struct TimeGoesOn {
    std::vector<CheckedText> evidence;
};
struct TimeStops {
    Run run;  // legal, and no scan may follow it; empty: not even the first scan is allowed
    std::vector<CheckedText> evidence;
    bool in_first_part = false;  // of a claim that has two
    std::string why;             // in words: what stops it, and where
};
struct TimeUnknown {
    std::string reason;
};
using TimeVerdict = std::variant<TimeGoesOn, TimeStops, TimeUnknown>;

// `claim`: one whose own part in a run matters, that is, whose driver or second part does; none: of the condition
// alone. Throws InternalError.
TimeVerdict time_goes_on(const Model& model, ConditionId condition, ClaimId claim, const JudgeOptions& options);

// The verdict on a claim that would hold.
Vacuous vacuous_because(const Model& model, ClaimId claim, const TimeStops& stops);

}  // namespace lanyard::prove
