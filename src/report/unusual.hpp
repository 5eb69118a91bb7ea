// What a run that breaks a claim takes that is out of the ordinary.
#pragma once

#include "report/film.hpp"

namespace lanyard::report {

// Sentences; of a complete film with a claim.
std::vector<std::string> unusual_words(const Film& film);

}  // namespace lanyard::report
