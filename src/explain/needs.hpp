// What a proof cannot do without, and what it would do without: "it would still hold if ...".
//
// What it decides. A certificate says what one proof used; another proof might use less. So each assumption that can
// have a say - the condition's parts, what is healthy of a quantity, how fast it moves, the errors and delays of
// sensors, the times of relays - is taken away from the model by itself and the claim is judged again. Refuted or
// vacuous: every proof needs it, it is in every set of assumptions that suffices. Proved: it can be spared. Then all
// that can be spared is taken away at once; where that is too much, one after the other, as long as the claim is
// proved. What is left is a set that suffices and of which none can be spared. (Deletion, as for unsatisfiable cores:
// certify/minimise.cpp. There may be other such sets; what is in all of them is exactly what cannot be spared by
// itself, as fewer assumptions have more runs.)
//
// Of logic and outputs the least set for the proof at hand is named. Each by itself is then made a thing that may be
// anything at every scan (with_anything.hpp), and the claim is judged again. Refuted: no proof does without it. Proved:
// that proof does. One that is stuck would not do: where the claim is vacuous with it stuck, it says nothing of whether
// a proof needs it.
//
// Why it is sound. Taking an assumption away only adds runs, and both answers are checked verdicts about the model with
// these runs. What is no yes or no is widened: a delay to twice as long. Gives up at the limit of work: unknown, and
// stays in the set.
//
// Assumptions that no proof needs are what is called vacuity of an environment; see Chockler, Kupferman & Vardi in
// mutation.hpp, of which this is the other half: there the logic is changed, here the world.
// Tested by: tests/explain/needs_test.cpp
#pragma once

#include "claims/needs.hpp"
#include "prove/driver.hpp"

namespace lanyard::explain {

struct NeedsReport {
    std::vector<ClaimNeeds> claims;  // in the order of options.claims
    bool interrupted = false;
};

// `work`: of each question. Throws InternalError.
NeedsReport needs_of(const Model& model, const DriverOptions& options, std::uint64_t work);

// Those that can have a say in the claim.
std::vector<Assumption> assumptions_of(const Model& model, ClaimId claim);
Model without(const Model& model, ClaimId claim, std::vector<Assumption> assumptions);

}  // namespace lanyard::explain
