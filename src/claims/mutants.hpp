// Small changes of a model's logic and what claims say to them, as plain values; explain/mutation.hpp makes them.
#pragma once

#include <vector>

#include "model/model.hpp"

namespace lanyard::claims {

enum class MutantKind { stuck_on, stuck_off, negated, dropped, swapped, moved, instant, doubled };

struct Mutant {
    MutantKind kind = MutantKind::negated;
    SignalId signal;     // logic or output whose definition is changed
    ExprPtr part;        // of that definition: what is changed
    ExprPtr instead;     // what stands there now
    ExprPtr definition;  // the whole of it, changed
};

enum class MutantFate {
    killed,      // a claim that was proved is refuted, or says nothing any more
    survived,    // every claim is proved as before
    undecided,   // no claim was seen to fail, and of at least one it is not known
    equivalent,  // semantically equivalent: proved that the signal is the same in every run
};

struct JudgedMutant {
    Mutant mutant;
    MutantFate fate = MutantFate::undecided;
    ClaimId claim;              // that killed it
    bool by_search = false;     // else a run of the unchanged model or a random one did
    std::vector<ClaimId> open;  // claims for which it is not known
};

struct MutationScore {
    std::vector<ClaimId> judges;  // claims that are proved for the model itself, and can therefore fail
    std::vector<ClaimId> silent;  // those that are not
    std::vector<JudgedMutant> mutants;
    std::vector<SignalId> unneeded;  // logic and outputs that no proof needs; by place in Model::order
    bool interrupted = false;

    long count(MutantFate fate) const {
        long n = 0;
        for (const auto& m : mutants) n += m.fate == fate ? 1 : 0;
        return n;
    }
};

}  // namespace lanyard::claims
