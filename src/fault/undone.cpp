// What it decides: for a set of faults that breaks a claim, and for each further fault: does the claim hold again when
// that one is there as well? Where faults may begin at any scan there is nothing to ask, for they may also stay away;
// where they are there from the start, a second fault may hide the first, and the set alone would say too much.
//
// How: the set's run is played again with the further fault, as nearly as the world lets it. Most often the claim is
// broken all the same, and the run is the proof. Else the provers are asked.
//
// Why it is sound: a run of the interpreter, or a certificate. A set and the faults that undo it are a prime implicant
// as far as one further fault goes (W. V. Quine, "The problem of simplifying truth functions", 1952).
//
// When it gives up: at the work limit; the fault is then listed as open.
// Tested by: tests/fault/analysis_test.cpp
#include "fault/undone.hpp"

#include <algorithm>

#include "fault/play_again.hpp"
#include "fault/with_faults.hpp"
#include "prove/judge.hpp"

namespace lanyard::fault {

namespace {

enum class Further { as_bad, undoes, open };

Further with_further(const Model& model, ClaimId claim, const claims::CutSet& set, FaultId fault,
                     const JudgeOptions& judging) {
    // One that comes and goes may also be away.
    std::vector<FaultId> staying{fault}, others;
    for (const FaultId f : set.faults) (model.faults[f].comes_and_goes ? others : staying).push_back(f);
    std::sort(staying.begin(), staying.end());
    Model m = with_faults(model, claim, {staying, 0, false, true});
    if (!others.empty()) m = with_faults(m, claim, {others, static_cast<int>(others.size()), true});
    if (comes_again_to(&Scan::violated, m, claim, *set.run)) return Further::as_bad;
    const ClaimResult r = judge(m, claim, judging);
    if (std::holds_alternative<Refuted>(r.verdict)) return Further::as_bad;
    return std::holds_alternative<Undecided>(r.verdict) ? Further::open : Further::undoes;
}

}  // namespace

void find_undoing(const Model& model, const CutOptions& options, const JudgeOptions& judging, ClaimFaults& claim) {
    const auto larger = [&](const claims::CutSet& s) { return s.run && std::ssize(s.faults) < options.order; };
    for (claims::CutSet& set : claim.sets) {
        if (!larger(set)) continue;
        for (const FaultId f : options.faults) {
            if (std::binary_search(set.faults.begin(), set.faults.end(), f)) continue;
            const Further further =
                judging.stopped() ? Further::open : with_further(model, claim.claim, set, f, judging);
            if (further == Further::undoes) set.undone_by.push_back(f);
            if (further == Further::open) set.undone_open.push_back(f);
        }
    }
}

}  // namespace lanyard::fault
