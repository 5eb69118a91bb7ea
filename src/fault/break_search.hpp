// One encoding and one unrolling in which the sets of faults that break a claim are found one after the other.
#pragma once

#include "claims/faults.hpp"
#include "claims/question.hpp"
#include "encode/unroll.hpp"
#include "prove/prover.hpp"

namespace lanyard::fault {

class BreakSearch : public Interruptible {
 public:
    // The question's condition says which faults may begin, and how many.
    explicit BreakSearch(const Question& q);

    // The next set that breaks the claim within `depth` leaps, replayed; nothing if there is none, or if the budget
    // (in Z3's resource units, which this call's work is taken from) ends. A set is found once, and nothing that holds
    // it is. Throws InternalError.
    std::optional<claims::CutSet> next(std::size_t depth, std::uint64_t& budget);
    // Nothing that holds this set is to be found.
    void exclude(const std::vector<FaultId>& faults);
    void interrupt() override { ctx_.interrupt(); }

 private:
    z3::expr all_there(const std::vector<FaultId>& faults, std::size_t step) const;
    claims::CutSet read();

    Question question_;
    z3::context ctx_;
    System system_;
    Solver solver_;
    Unrolling unrolling_;
    z3::expr target_;
    std::vector<std::vector<FaultId>> excluded_;
    std::size_t clear_ = 0;  // leaps within which nothing is left
};

}  // namespace lanyard::fault
