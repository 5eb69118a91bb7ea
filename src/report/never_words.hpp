// Why something never happens (claims/never.hpp), in words.
#pragma once

#include <string>
#include <vector>

#include "claims/verdict.hpp"
#include "report/reasons.hpp"

namespace lanyard::report {

// "inj is never on while the engine is cranking", and why.
std::vector<Reason> never_reasons(const Model& model, const std::vector<Never>& list);

// What the certificate of a claim that nothing fulfils cannot do without: logic and parts in one line, then each
// assumption, with its numbers, unless `told` has told it.
std::vector<std::string> excluded_by(const Model& model, const Claim& claim, const Certificate& certificate,
                                     const std::vector<Never>& told);

// What the claim probably should have said, and how that is decided.
std::string meant_words(const Model& model, const Meant& meant);

}  // namespace lanyard::report
