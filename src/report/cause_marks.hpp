// The choices of a run that are causes (claims/causes.hpp), one by one: what is said of each, and where it shows.
#pragma once

#include <string>
#include <vector>

#include "claims/causes.hpp"
#include "model/model.hpp"

namespace lanyard::report {

struct EventWords {
    std::string what;     // "key on"
    std::string instead;  // "it had stayed off"
};
EventWords event_words(const Model& model, const Run& run, const RunCause::Part& part);

// "key on at 1.00 s: if it had stayed off, nothing would be broken"
std::string sentence_of(const Model& model, const Run& run, const Causes& causes, const RunCause& cause);

// "key on at 1.00 s"
std::string text_of_part(const Model& model, const Run& run, const RunCause::Part& part);

// The signal that changes by the event, and the scan at which it does; none: it is about none.
SignalId signal_of(const Model& model, const InputEvent& event);
long shown_at(const InputEvent& event);

// The signal in whose row of a drawing the event belongs; none: it has one of its own.
SignalId row_of(const Model& model, const InputEvent& event);

struct CauseMark {
    InputEvent event;
    long scan = 0;         // at which it shows
    SignalId shows;        // changes there; none: nothing that has a signal does
    std::string what;      // "key on"
    std::string sentence;  // of the cause that it is, or is a part of
};
// Each event once, in the order of the causes; without what the claim itself presupposes.
std::vector<CauseMark> cause_marks(const Model& model, const Run& run, const Causes& causes);

}  // namespace lanyard::report
