// What is asked: a plain value, which whoever searches, checks or explains is given.
#pragma once

#include <string>
#include <vector>

#include "claims/verdict.hpp"

namespace lanyard::claims {

// What must not (or, for evidence that a claim is not vacuous, must) be reachable.
enum class Target { bad, demand };

// A reachability question about a model; everything that an answer is about.
struct Question {
    const Model* model = nullptr;
    ConditionId condition = any_condition;
    ClaimId claim;
    Target target = Target::bad;
    bool leaps = true;  // false where the leap lemma could not be shown
    // A question that is no claim's: can a step lead into these states? SMT-LIB text over the state's names.
    std::string extra;
    bool any_mode = false;  // of `extra`: a step of one scan that leads there whichever mode the engine goes to
    // Asked of what may follow a run, instead of what may follow the beginning: the run, and the state that it ends in,
    // a value a state variable.
    Run before;
    std::vector<std::string> start;
    // Two-way tables: how far their cells are refined.
    std::vector<Tangent> tangents;
    int refined = 0;  // times
    // Binding quantities (claims/binding.hpp) are looked at beyond the claim's cone too.
    bool with_binding_quantities = false;
};

// About the claim under its own condition: can it be broken?
inline Question question_about(const Model& model, ClaimId claim) {
    Question q;
    q.model = &model;
    q.claim = claim;
    q.condition = model.claims[claim].condition;
    return q;
}

}  // namespace lanyard::claims
