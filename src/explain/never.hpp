// Why a goal is unreachable, or what a claim waits for does not happen.
//
// What it decides. A certificate shows that an expression is never true; this walks down to what keeps it so. A name
// leads to its definition, an AND to a part that is never true by itself, an OR to all of its parts, a delay to its
// input, "engine = running" to a load without which it does not fire, while the engine cranks. At the end of the walk
// are the ranges and lines that the last proof needs.
//
// Why it is sound. Every "never" of the walk is a question of its own - is this reachable under the claim's condition,
// in this mode of the engine? - and only a checked certificate counts as no. That a definition, an OR or a delay with
// an input that never comes on is never true follows from what it means. Parts of an AND are never true "together"
// where each was left out once, and the others were reached, or not shown to be unreachable. The ranges are those in
// the core of the last question (certify/rests_on.hpp), made irreducible.
//
// A claim that is vacuous because its premise ends before the answer is due is judged once more with "once" in place of
// "whenever": that is what it probably should have said.
//
// When it gives up: a limit on questions and on the work for each. Then the walk is shorter; nothing is guessed.
// Memory of the logic belongs to a name: a part with memory is not asked about by itself.
// Tested by: tests/explain/never_test.cpp
#pragma once

#include "claims/verdict.hpp"
#include "prove/ask.hpp"

namespace lanyard::explain {

// Fills in what is known of a claim that was refuted or is vacuous by a certificate alone. Throws InternalError.
void explain_never(const Model& model, ClaimResult& result, const JudgeOptions& options);

}  // namespace lanyard::explain
