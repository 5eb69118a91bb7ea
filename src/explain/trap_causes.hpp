// Which events of a run into a trap are why it ends there: with them otherwise, the goal can still be reached.
//
// What it decides. An event is a cause of a trap if there is something else that it could have been, such that the run,
// gone through again with that (explain/causes.hpp), ends in a state from which some run under the claim's second
// condition gets to the goal. An end outside of the trap's closed set would not be enough to say so: it may lie in
// another trap. So a way to the goal is looked for, and without one nothing is marked.
//
// How, the cheapest first. An end inside the closed set is in the trap still. Ways to the goal that are known already
// are tried from there, scan by scan, as near as the world lets them be. Then the bounded search is asked for one.
//
// Why it is sound. Each cause brings a run along that the interpreter has played: legal, changed in nothing but the
// event before the second part begins, and then on to the goal. Neither the closed set nor a solver is believed: the
// one only saves work, the other's run is replayed. When it gives up: after a fixed number of steps unrolled to tell
// where runs end, and of questions asked, each with a limit of work; what was not settled is not marked, and the causes
// are not complete.
// Tested by: tests/explain/trap_test.cpp, tests/explain/causes_test.cpp
#pragma once

#include "claims/verdict.hpp"
#include "prove/ask.hpp"

namespace lanyard::explain {

// The run leads into the trap, and `closed` is the certificate of that. Throws InternalError.
Causes trap_causes_of(const Model& model, const Run& run, const Certificate& closed, ClaimId claim,
                      const JudgeOptions& options);

}  // namespace lanyard::explain
