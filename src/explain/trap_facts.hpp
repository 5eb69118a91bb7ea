// What the story of a trap has to say beyond the closed set: when the trap shut, and what can never be so again.
//
// What it decides. The closed set says of the run's end that nothing leads from there to the goal. The scans of the run
// are halved until a first one is found whose state lies in the closed set too: from there on, nothing could be done
// any more. A trap may have shut earlier than a closed set shows; so that scan is told as the latest, unless a way from
// the scan before it to the goal is found and replayed. Of a latch that the closed set fixes, each comparison that
// would have to come true for it to change is asked about as a goal of its own, and so is each mode of the engine: can
// it be so at any scan that may follow the run? What is said to be impossible rests on a certificate of its own.
//
// When it gives up: after a fixed number of questions, each with a limit of work, and of runs that are unrolled. What
// was not settled is not said.
// Tested by: tests/explain/trap_test.cpp
#pragma once

#include <functional>

#include "claims/verdict.hpp"
#include "prove/ask.hpp"

namespace lanyard::explain {

// `way_from`: is a way to the goal known from the end of this run? Throws InternalError.
TrapFacts trap_facts_of(const Model& model, const Run& run, const Certificate& closed, ClaimId claim,
                        const JudgeOptions& options, const std::function<bool(const Run&)>& way_from);

}  // namespace lanyard::explain
