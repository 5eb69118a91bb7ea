// What is broken at the last scan of a refuting run. The films are of runs of a claim.
#pragma once

#include <string>
#include <vector>

#include "claims/verdict.hpp"
#include "report/film.hpp"
#include "report/reasons.hpp"

namespace lanyard::report {

// Sentences, the first one with the time.
std::vector<std::string> broken_words(const Film& film);

// Why the claim's right side is not there.
Reasons broken_reasons(const Film& film);

// The same in less than a line: "NOT injectors comes too late".
std::string broken_summary(const Film& film);

// Why a response is due before the time that is written: told once in a report that has a refuted one.
std::string time_note();
// Is that to be told of this verdict?
bool needs_time_note(const Claim& claim, const Verdict& verdict);

}  // namespace lanyard::report
