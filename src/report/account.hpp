// What programs are told of a claim, as plain values: the run against it step by step with the signals that each step
// is about, and what the verdict hangs on. The story (story.hpp) says the same to people.
#pragma once

#include <string>
#include <vector>

#include "report/filmed.hpp"

namespace lanyard::report {

struct Step {
    std::string time;  // "2.31 s"; "..." where steps are left out
    std::string text;  // "key on, oil_pressure 0 psi: coils on"
    struct State {
        SignalId signal;
        std::string words;  // "oil_pressure 0 psi"
    };
    std::vector<State> states;  // of the signals that it is about; the first is what begins it
};

struct Account {
    std::vector<Step> steps;          // of the run against the claim; empty if there is none
    std::vector<std::string> broken;  // what is wrong at its end
    // What the chain of causes speaks of; without a run, what the verdict's certificate needed. By place in the file.
    std::vector<SignalId> hangs_on;
};

// The run has to be a legal one.
Account account_of(const FilmedResult& result);

}  // namespace lanyard::report
