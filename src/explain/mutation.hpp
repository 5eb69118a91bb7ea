// How much of a model's logic its claims hold fast: the mutation score.
//
// What it decides. For each mutant (mutants.hpp), whether some claim that is proved of the model itself fails of the
// mutant. A mutant that no claim notices is a mistake that somebody could make and lanyard would call proved: a
// weakness of the claims, not of the logic. This is coverage of a specification in the sense of Chockler, Kupferman &
// Vardi, "Coverage metrics for formal verification" (CHARME 2003, from memory): what can be changed without a claim
// falling is not covered by the claims.
//
// How, cheapest first. A claim in whose cone the changed signal is not cannot fail. One whose proof does not need the
// signal (Certificate::elements) and whose example still demands something holds as it did: the same invariant proves
// it. Then runs: the example of the proof gone through again in the mutant, and a few random ones; a legal run of the
// mutant that breaks the claim kills it, and the interpreter has played it. Then the
// proof of the model itself is checked of the mutant, obligation by obligation: an invariant often stays one. Only then
// the claim is judged like any other, within a limit of work.
//
// Why it is sound. Killed: by a replayed run or a checked verdict. Survived: every claim that could fail is proved of
// the mutant. Equivalent: proved as a claim of its own, that the changed definition is worth the same at every scan
// under `any`; tried for survivors without memory in the changed definition. A survivor may be equivalent all the same:
// whether it is, is undecidable in general, so the score is a lower bound.
//
// Each mutant is judged by itself and by nothing that was found for another, so that any number of threads says the
// same.
// Tested by: tests/explain/mutants_test.cpp
#pragma once

#include "claims/mutants.hpp"
#include "prove/driver.hpp"

namespace lanyard::explain {

// Of one question, where nobody says otherwise: a mutant that lives is worth less work than a claim.
inline constexpr std::uint64_t work_of_mutant = 4'000'000;

struct MutationOptions {
    DriverOptions driver;  // claims, and limits for judging them; of the callbacks only on_start
    std::uint64_t work = work_of_mutant;
    // Of the mutants in their order, only these are judged: share, share + shares, share + 2 shares ..., from 1.
    std::size_t share = 1, shares = 1;
    std::function<void(std::size_t done, std::size_t all)> on_mutant;  // never two at once
};

// Throws InternalError.
MutationScore mutation_score(const Model& model, const MutationOptions& options);

}  // namespace lanyard::explain
