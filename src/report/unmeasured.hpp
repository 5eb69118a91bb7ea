// Numbers of common practice that a run or a model rests on: filled in because the file does not say them, measured by
// nobody.
#pragma once

#include <set>
#include <string>
#include <vector>

#include "report/film.hpp"

namespace lanyard::report {

// Of the quantities that `told` names (or their readings); of the whole cone if it is empty.
std::vector<std::string> unmeasured_numbers(const Film& film, const std::set<SignalId>& told);

// All that verdicts about the model may rest on: ranges, and where a claim is about a healthy engine what is healthy.
std::vector<std::string> unmeasured_numbers(const Model& model);

// Is a claim about a healthy engine?
bool speaks_of_healthy(const Model& model);

// "2 .. 6 bar from 2 s (before: 0 .. 6 bar)"
std::string band_text(const Model& model, SignalId id, const ModeBand& band);

}  // namespace lanyard::report
