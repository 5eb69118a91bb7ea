// How the causes of a violation (claims/causes.hpp) are told and marked.
#pragma once

#include <string>
#include <vector>

#include "claims/causes.hpp"
#include "report/json_values.hpp"

namespace lanyard::report {

// Stands behind what is a cause, wherever a run is told.
inline constexpr const char* cause_mark = " *";

// The signal that shows the event, and the scan at which it does; -1: none does.
SignalId signal_of(const Model& model, const InputEvent& event);
long shown_at(const InputEvent& event);
bool is_cause(const Model& model, const Causes& causes, SignalId signal, long scan);

// "oil_pressure falls to 12 psi at 2.00 s: had it stayed at 40 psi, nothing would be broken"
std::vector<std::string> cause_sentences(const Model& model, const Run& run, const Causes& causes);
Json causes_json(const Model& model, const Run& run, const Causes& causes);

}  // namespace lanyard::report
