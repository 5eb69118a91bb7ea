// The logic taken apart into what the card tests: decisions with their conditions, comparisons, elements with memory.
// Each of these gets a name of its own; what the model does stays the same, because a named expression is evaluated in
// the scan in which it is used.
//
// A second model has a hidden switch beside each of them that turns its value over. What then differs at a terminal is
// where the value shows: a fault of just that piece of logic would be seen there.
// Tested by: tests/card/card_test.cpp
#pragma once

#include <map>
#include <string>
#include <vector>

#include "card/bench.hpp"
#include "card/formula.hpp"

namespace lanyard::card {

struct Decision;
struct Comparison;
struct Memory;
using DecisionId = Id<Decision>;  // in Points::decisions
using ComparisonId = Id<Comparison>;
using MemoryId = Id<Memory>;

struct Decision {
    SignalId outcome;
    SignalId owner;    // of the user's model: in whose definition it stands
    std::string role;  // "set of SR", "input of TON"; empty: it is the whole definition
    ExprPtr formula;   // over `conditions`
    std::vector<SignalId> conditions;
    std::string text;  // as written
};

struct Comparison {
    SignalId value;
    SignalId owner;
    ExprPtr is;
    InputId input;       // none: not of one sensor alone
    Rational on, off;    // thresholds; the same ones without memory
    bool above = false;  // on beyond `on` to the high side
    bool strict_on = true, strict_off = true;
    bool has_band = false;
    std::string text;
};

struct Memory {
    SignalId value;
    SignalId owner;
    ExprPtr is;             // its inputs are signals
    bool retained = false;  // over a loss of power
    std::string text;
};

struct Points {
    Bench bench;    // the model with all of these named
    Model flipped;  // and with the switches beside them
    Indexed<Decision> decisions;
    Indexed<Comparison> comparisons;
    Indexed<Memory> memories;
    std::map<SignalId, std::string> texts;  // what stands behind a name that is not the user's
    std::map<SignalId, SwitchId> flips;     // outcome or value: its switch in `flipped`
    std::vector<SignalId> looks;            // where somebody can look: outputs and loads
    bool has_logic() const { return !decisions.empty() || !comparisons.empty() || !memories.empty(); }
    std::string text_of(SignalId id) const;
    // Signals whose changes on the way to rest matter.
    std::vector<SignalId> watched() const;
};

Points points_of(const Bench& bench);

}  // namespace lanyard::card
