// What keeps a run in its trap, as far as it can be told of single memory elements.
#pragma once

#include <string>
#include <vector>

#include "claims/verdict.hpp"
#include "report/film.hpp"
#include "report/json_values.hpp"

namespace lanyard::report {

// The film is of the way into the trap, the certificate is the closed set behind its end. Only what is the
// same in all of that set is told of; nothing may be.
std::vector<std::string> trapped_words(const Film& film, const Certificate& closed);

// When it shut, and what can never be so again.
Json trap_json(const Film& film, const Certificate& closed, const TrapFacts& facts);

}  // namespace lanyard::report
