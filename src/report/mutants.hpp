// A mutation score, told: as text, and as JSON for programs.
#pragma once

#include <string>

#include "claims/mutants.hpp"
#include "model/model.hpp"
#include "report/header.hpp"

namespace lanyard::report {

// "`oil > 15 psi` left out"
std::string mutant_words(const Model& model, const Mutant& mutant);

// What claims notice and what they do not. Whole lines without heading.
std::string mutation_text(const Model& model, const MutationScore& score);
std::string mutation_json(const Model& model, const MutationScore& score, const Versions& versions);

}  // namespace lanyard::report
