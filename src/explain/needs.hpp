// What a proof cannot do without, and what it would do without: "it would still hold if ...".
//
// What it decides. A certificate says what one proof used; another proof might use less. So each assumption that can
// have a say - the condition's parts, what is healthy of a quantity, how fast it moves, the errors and delays of
// sensors, the times of relays - is taken away from the model by itself and the claim is judged again. Proved: it would
// hold without. Refuted or vacuous: every proof needs it, it is in every set of assumptions that suffices.
//
// Why it is sound. Taking an assumption away only adds runs, and both answers are checked verdicts about the model with
// these runs. Assumptions are taken away one at a time: that two can be spared each does not say that both can. What is
// no yes or no is widened: a delay to twice as long. Gives up at the limit of work: unknown.
//
// Assumptions that no proof needs are what is called vacuity of an environment; see Chockler, Kupferman & Vardi in
// mutation.hpp, of which this is the other half: there the logic is changed, here the world.
#pragma once

#include "claims/needs.hpp"
#include "prove/driver.hpp"

namespace lanyard {

struct NeedsReport {
    std::vector<ClaimNeeds> claims;  // in the order of options.claims
    bool interrupted = false;
};

// `work`: of each question. Throws InternalError.
NeedsReport needs_of(const Model& model, const DriverOptions& options, std::uint64_t work);

// Those that can have a say in the claim.
std::vector<Assumption> assumptions_of(const Model& model, int claim);
Model without(const Model& model, int claim, const Assumption& assumption);

}  // namespace lanyard
