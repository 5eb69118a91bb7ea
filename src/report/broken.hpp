// What is broken at the last scan of a refuting run.
#pragma once

#include <string>
#include <vector>

#include "report/film.hpp"
#include "report/reasons.hpp"

namespace lanyard::report {

// Sentences, the first one with the time.
std::vector<std::string> broken_words(const Film& film, ClaimId claim);

// Why the claim's right side is not there.
Reasons broken_reasons(const Film& film, ClaimId claim);

// The same in less than a line: "NOT injectors comes 50 ms too late".
std::string broken_summary(const Model& model, const Run& run, ClaimId claim);

}  // namespace lanyard::report
