// Bounded search over fault sets.
//
// What it decides: which sets of faults can break the claim within d leaps, for d = 1, 2, 3 ... Each set that is found
// is asserted not to come together again, in the same solver, which keeps what it has learnt: the faults are
// switches of one encoding, so a further set costs a query and no encoding.
// Why it is sound: each is the end of a run that the interpreter has played.
// When it gives up: it finds, and proves nothing; what is left is for the provers (cut_search.cpp). The same scheme
// with a solver for the sets of its own: M. Liffiton, A. Previti, A. Malik, J. Marques-Silva, "Fast, flexible MUS
// enumeration", Constraints 21 (2016); here the claim's solver does both, because faults are few.
// Tested by: tests/fault/analysis_test.cpp
#include "fault/break_search.hpp"

#include <algorithm>

#include "certify/complete.hpp"
#include "certify/obligations.hpp"
#include "prove/ask.hpp"
#include "sim/interpreter.hpp"

namespace lanyard::fault {

BreakSearch::BreakSearch(const Question& q)
    : question_(q),
      system_(system_of(ctx_, q, false)),
      solver_(ctx_),
      unrolling_(system_, solver_),
      target_(target_of(system_, q)) {}

z3::expr BreakSearch::all_there(const std::vector<FaultId>& faults, std::size_t step) const {
    z3::expr_vector all(system_.bad.ctx());
    for (const FaultId f : faults) {
        const auto& ever = system_.readback.fault_ever[f];
        if (!ever) return system_.bad.ctx().bool_val(false);  // nothing in the claim's cone asks for it
        all.push_back(unrolling_.step(step)(*ever));
    }
    return all_of(all);
}

void BreakSearch::exclude(const std::vector<FaultId>& faults) {
    excluded_.push_back(faults);
    for (std::size_t n = 0; n < unrolling_.depth(); ++n) solver_.add(!all_there(faults, n));
}

std::optional<claims::CutSet> BreakSearch::next(std::size_t depth, std::uint64_t& budget) {
    while (clear_ < depth && budget > 0) {
        if (unrolling_.depth() == clear_) {
            unrolling_.extend();
            for (const auto& g : system_.grid) solver_.add(unrolling_.step(clear_)(g));
            for (const auto& set : excluded_) solver_.add(!all_there(set, clear_));
        }
        const Renaming& at = unrolling_.step(clear_);
        const z3::expr hit = ctx_.bool_const(("hit@" + std::to_string(clear_)).c_str());
        solver_.add(z3::implies(hit, at(target_) && at.k() == 1));
        const Answer a = solver_.check({hit}, budget);
        budget -= std::min(budget, solver_.work() + 1000);
        if (a == Answer::unknown) return std::nullopt;
        if (a == Answer::satisfiable) return read();
        solver_.add(!hit);
        ++clear_;
    }
    return std::nullopt;
}

claims::CutSet BreakSearch::read() {
    const PartialRun partial = unrolling_.read(*question_.model, unrolling_.depth());
    std::string why;
    const auto run = complete(question_, partial, why);
    if (!run) throw InternalError{"the interpreter rejects a run with faults: " + why};
    Interpreter interpreter(*question_.model, question_.condition, question_.claim);
    const Scan last = play(interpreter, *run);
    if (!last.broken_rule.empty()) throw InternalError{"a run with faults does not replay: " + last.broken_rule};
    if (!last.violated) throw InternalError{"a run with faults does not break its claim"};
    claims::CutSet out;
    out.faults = faults_of(*run);
    out.run = *run;
    out.depth = unrolling_.depth();
    return out;
}

}  // namespace lanyard::fault
