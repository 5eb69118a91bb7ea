// Which events of a refuting run are why it breaks the claim: computed, not guessed.
//
// What it decides. An event - a hand moves, a quantity rises, a fault begins, a relay is slow - is a cause if there is
// something else that it could have been, such that the run, gone through again with that and nothing else changed,
// breaks the claim at no scan. That is the but-for test, clause AC2 of Halpern & Pearl, "Causes and Explanations: A
// Structural-Model Approach" (Brit. J. Phil. Sci. 56, 2005, from memory) without a contingency. Where no event passes
// it alone - two faults, each enough - pairs are tried: both changed, and neither alone, which is the contingency of
// that clause and what Beer, Ben-David, Chockler, Orni & Trefler, "Explaining counterexamples using causality" (CAV
// 2009, from memory) mark in a trace.
//
// What else it could have been. An event is left out: the item stays what it was until its next event. At the run's
// beginning, and for a quantity at any time, also another value of those at which something in the model turns. Where
// none of these is a cause, what did not happen is tried too: that a switch that nobody touches had been in its other
// position, that the engine had fired as early as it might, and that a quantity had changed together with the engine's
// mode.
//
// Gone through again. The model's world is not left: rates, bands, the driver of a procedure and the condition hold in
// the changed run too. Whatever else was chosen is chosen again where that is legal, otherwise the nearest that is;
// exact readings stay exact. Where the changed item itself may not be what was tried, or no scan may follow, the
// attempt counts for nothing: what could not have been otherwise is no cause.
//
// Why it is sound. Each cause brings its other run along, and the interpreter has played it: legal, as long as the
// refuting run, and without a violation. Whoever doubts replays it (tests/explain does). It is not complete: another
// value than those tried, or three events together, might do it as well; and a budget of scans ends the search.
// Tested by: tests/explain/causes_test.cpp
#pragma once

#include <functional>

#include "claims/causes.hpp"
#include "model/model.hpp"

namespace lanyard::explain {

// The run has to be legal and to break the claim at its last scan.
Causes causes_of(const Model& model, const Run& run, ClaimId claim);

// Likewise of a run whose end is what is wrong: `saved` makes of a changed run the one that shows that its end is not.
// That is what a cause then brings along.
using Saved = std::function<std::optional<Run>(const Run& otherwise)>;
Causes causes_of(const Model& model, const Run& run, ClaimId claim, const Saved& saved);

}  // namespace lanyard::explain
