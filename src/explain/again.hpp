// A claim asked once more, of a model that differs a little from the one it is proved of.
//
// What is found for the one often serves the other: a proof whose obligations hold of the changed model too proves the
// claim there, whoever found it. Only where they do not, the claim has to be judged like any other.
// Tested by: tests/explain/mutants_test.cpp, tests/explain/needs_test.cpp
#pragma once

#include "claims/verdict.hpp"
#include "prove/ask.hpp"

namespace lanyard::explain {

// The question that the certificate of a claim of the model is an answer to.
Question question_of(const Model& model, ClaimId claim, const Certificate& certificate);

// Do the obligations hold of the changed model? Checked one by one; false where that is not known.
bool proves_still(const Model& changed, ClaimId claim, const Certificate& certificate, const JudgeOptions& options);

// As judge() says; undecided where it was stopped, as what a solver says that was stopped counts for nothing. Throws
// InternalError.
Verdict verdict_of(const Model& model, ClaimId claim, const JudgeOptions& options);

}  // namespace lanyard::explain
