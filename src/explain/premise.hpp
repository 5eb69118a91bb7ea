// What a claim presupposes: the part of a run that makes its premise true, rather than its answer fail.
//
// "Whenever the kill switch is on, the injectors are off" presupposes that somebody switches it on. Had nobody done so,
// the claim would not be violated; but that is not why it is. A cause counts as presupposed if the premise names what
// it is about - the switch, the quantity, the engine's mode or the speed that is tied to it - and if the run without it
// takes the premise away no later than the answer comes, from where the claim counted. Both have to be so: of "the pump
// runs only with the key on" the premise is what goes wrong, and whatever makes the pump run is a cause.
// Tested by: tests/explain/causes_test.cpp
#pragma once

#include <set>

#include "claims/causes.hpp"
#include "model/model.hpp"

namespace lanyard::explain {

class Premise {
 public:
    // `run` breaks the claim at its last scan.
    Premise(const Model& model, const Run& run, ClaimId claim);

    // Whether the premise names what the event is about.
    bool names(const InputEvent& event) const;
    // Whether a legal run, equal or similar to the violating one, takes the premise away, where there is one.
    bool is_gone_in(const Run& otherwise) const;

 private:
    std::vector<bool> truths(const Run& run, ClaimId which) const;

    Model asked_;  // the model with the premise and the answer as claims of their own
    ConditionId condition_;
    std::set<SignalId> named_;
    ClaimId premise_, answer_;    // no answer of an invariant, nor where it cannot come in time
    long first_ = 0, last_ = -1;  // the scans at which the premise has to be true
};

}  // namespace lanyard::explain
