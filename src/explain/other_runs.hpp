// Further runs that break a claim, each for reasons of its own.
//
// What it decides. Given a refuting run with its causes, runs whose causes are not the same. Each cause of a known run
// is ruled out in turn - by a condition that is the claim's own and one more line: this switch stays so, this quantity
// never gets there, this fault does not come - and the claim is judged again. The answers make a tree as Reiter's
// hitting sets do, "A Theory of Diagnosis from First Principles" (Artificial Intelligence 32, 1987, from memory): the
// children of a run rule out one more of its causes, breadth first, so that runs with few exclusions come first.
//
// Why it is sound. A run under a narrower condition is one under the claim's own; it is replayed under that, and its
// causes are computed like any other's. Not complete: what has no signal of its own (a choice of the wiring) cannot be
// ruled out, of two runs with the same causes one is kept, and a limit on questions ends the search.
#pragma once

#include "claims/causes.hpp"
#include "prove/ask.hpp"

namespace lanyard {

// At most `count`, without the first. Throws InternalError.
std::vector<OtherRun> other_runs(const Model& model, const OtherRun& first, int claim, unsigned count,
                                 const JudgeOptions& options);

}  // namespace lanyard
