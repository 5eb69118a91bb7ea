// Why a signal is what it is at one scan of a run, and how it came to be so.
//
// Two chains are told. The first is the one of reasons.hpp: what holds the signal where it is *now*. The second tells
// what was first to go, as a first-out annunciator does (the term of ISA-18.1, from memory): of all conditions that
// hold a load off after a trip most are its consequences, and only the first is its cause. It is the same walk back,
// with everything looked at when it became what it is: a link counts only if it changed together with what it explains,
// or a clock, latch, relay or scan earlier. What stands at the end of such a chain changed by itself - a hand, a
// quantity, a fault - and the times at these ends say which was first. No solver takes part, and nothing is guessed;
// whether another input would have made a difference is a question for causes (explain/causes.hpp).
// Tested by: tests/explain/why_test.cpp
#pragma once

#include <string>
#include <vector>

#include "report/json_values.hpp"
#include "report/reasons.hpp"

namespace lanyard::report {

struct FirstOut {
    long scan = 0;
    std::string text;  // "oil 12 psi is not above 15 psi"
    friend bool operator==(const FirstOut&, const FirstOut&) = default;
};

struct Why {
    SignalId signal;
    std::string name;     // as traces call it
    long scan = 0;        // the moment in question
    std::string state;    // "injectors off"
    bool is_off = false;  // a Boolean one
    long since = -1;      // the scan at which it became so, 0: it has never been otherwise; -1: a number
    std::vector<Reason> because;
    // How it came to be so: empty if it has never been otherwise.
    std::vector<Reason> change;
    std::vector<FirstOut> first;  // the ends of that, the first to go in front
};

// The film has to end at the moment in question.
Why why(const Film& film, SignalId signal, const std::string& name);

std::string why_text(const Model& model, const Why& why);
Json reasons_json(const Model& model, const std::vector<Reason>& reasons);
Json why_json(const Model& model, const Why& why);

}  // namespace lanyard::report
