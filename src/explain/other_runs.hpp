// Further counterexamples, each with different causes.
//
// What it decides. Given a refuting run with its causes, runs whose causes are not the same. Each cause of a known run
// is ruled out in turn (explain/ruled_out.hpp) - by one more line of the claim's condition: this switch stays so, this
// quantity never gets there, the engine never cranks; or by a choice less: this relay is never slow - and the claim is
// judged again. The answers make a tree as Reiter's hitting sets do, "A Theory of Diagnosis from First Principles"
// (Artificial Intelligence 32, 1987, from memory): the children of a run rule out one more of its causes, breadth
// first, so that runs with few exclusions come first. Where what is ruled out is a fault, the known run is first gone
// through again with each other fault in its place: that is cheap, and finds what a search would take long to find.
//
// Why it is sound. Whatever was left out to find it, a run is replayed in the whole model under the claim's own
// condition, and its causes are computed there like any other's. Of two runs with the same causes one is kept.
//
// When there are no more. Every leaf of the tree is a proof that without these causes no run breaks the claim. A run
// that breaks it obeys none of the exclusions below some node, so it has all causes of that node's run. That is said
// only if every leaf was proved, every run in the tree has a cause and every cause could be ruled out: a relay that is
// never instant cannot, nor can an alternator's excitation. A limit on questions ends the search as well.
// Tested by: tests/explain/causes_test.cpp, tests/explain/ruled_out_test.cpp
#pragma once

#include "claims/causes.hpp"
#include "prove/ask.hpp"

namespace lanyard::explain {

struct OtherRuns {
    std::vector<OtherRun> list;
    NoMore no_more = NoMore::enough;
};
// At most `count`, without the first. Throws InternalError.
OtherRuns other_runs(const Model& model, const OtherRun& first, ClaimId claim, unsigned count,
                     const JudgeOptions& options);

}  // namespace lanyard::explain
