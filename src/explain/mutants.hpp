// Small changes of a model's logic, each of them a mistake that somebody might make.
//
// Mutation: DeMillo, Lipton & Sayward, "Hints on Test Data Selection: Help for the Practicing Programmer" (IEEE
// Computer 11(4), 1978, from memory). Of each definition of logic and outputs: stuck on, stuck off. Of each part of it:
// a condition negated, a condition dropped from an AND or OR, AND and OR swapped (and with them how many of a vote), a
// threshold moved up and down by a twentieth of the quantity's range (not beyond it), a timer left out, a timer's time
// doubled. One change a mutant: who notices the small ones notices most of what is made of them (the coupling effect of
// that paper; an experience, no theorem).
// Tested by: tests/explain/mutants_test.cpp
#pragma once

#include <vector>

#include "claims/mutants.hpp"
#include "model/model.hpp"

namespace lanyard::explain {

// In the order of Model::order, within a definition from left to right.
std::vector<Mutant> mutants_of(const Model& model);

// The model with that definition.
Model mutated(const Model& model, const Mutant& mutant);

}  // namespace lanyard::explain
