// The bench card as plain values: what to set, what to expect where, what that shows, and what could not be shown.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "model/model.hpp"

namespace lanyard::claims {

struct CardSetting {
    std::string what;      // "key", "revs"
    std::string terminal;  // may be empty
    std::string to;        // "on", "480 rpm", "press and hold"
};

enum class LookKind {
    state,      // on or off
    number,     // a duty
    stopwatch,  // how long after the setting it changes
};

struct CardReading {
    int number = 0;  // counted through the card
    LookKind kind = LookKind::state;
    SignalId signal;              // of the model: where to look
    std::string where;            // its name
    std::string terminal;         // may be empty
    std::string expected;         // "on", "35 %", "goes off after 45.00 .. 45.02 s"
    bool is_on = false;           // states
    Rational low, high;           // numbers in SI, times in s: what agrees
    std::string remark;           // "either is right within the accuracy of revs"
    bool either = false;          // the box stands on a threshold: both agree, within the sensor's accuracy
    std::vector<SignalId> tests;  // signals of the model whose logic is shown there
};

struct CardStep {
    int number = 0;
    std::vector<CardSetting> set;
    std::vector<CardSetting> held;  // from earlier steps: buttons, plugs that are off, terminals that are fed
    std::string wait;               // "4.02 s, until starter goes off"; empty: nothing to wait for
    std::vector<std::string> cautions;
    std::vector<CardReading> readings;
    std::vector<std::string> shows;  // "crank, set of RS: start AND standing = on by start on"
};

// A combination of a decision's conditions and the step that sets it.
struct CardTest {
    std::string conditions;  // "key on, armed on, killed off, tripped off"
    bool outcome = false;
    int step = 0;
    int shown = 0;         // the step at which it shows; 0: at no terminal
    bool passing = false;  // it is there only until something runs out, and shows by that time
};

struct CardDecision {
    SignalId owner;
    std::string name;  // "crank, set of RS"
    std::string text;
    std::size_t conditions = 0;
    std::size_t least = 0;  // tests that the formula needs at least, could all be set
    bool known_least = true;
    std::vector<CardTest> tests;
    std::vector<std::string> not_shown;  // conditions of which it was not shown that they act alone
};

enum class GapKind {
    impossible,  // proved
    in_passing,  // happens, but no setting was found that holds it
    undecided,   // neither found nor proved impossible
    hidden,      // can be set, but shows at no terminal
    not_found,   // no setting was found
    too_large,   // a decision with more conditions than a table is made for
};

struct CardGap {
    GapKind kind = GapKind::undecided;
    std::string of;    // "allowed"
    std::string what;  // "never together: key off, armed on"
    std::string why;
};

struct Card {
    std::vector<CardSetting> rest;        // before the first and after the last step
    std::vector<std::string> on_at_rest;  // what has power then
    std::string stop;  // "breaker off": takes the power from all, at every step; empty: none alone does
    std::vector<CardStep> steps;
    std::string why_empty;  // why there is no step
    std::vector<CardDecision> decisions;
    std::vector<CardGap> gaps;
    std::size_t thresholds = 0, delays = 0, latches = 0;  // values, times, and things about latches that are shown
    std::size_t readings = 0;
    bool interrupted = false;
};

// Seconds that a hand needs to press and to stop a watch: they are added on both sides (common practice).
inline const Rational hand_time(3, 10);

}  // namespace lanyard::claims
