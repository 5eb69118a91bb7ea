// A question to all provers, and the checked answer.
#pragma once

#include <functional>

#include "base/errors.hpp"
#include "base/stop_flag.hpp"
#include "claims/verdict.hpp"
#include "prove/prover.hpp"

namespace lanyard::prove {

class KnownAnswers;  // known.hpp

struct JudgeOptions {
    std::string prover;  // only this one; empty: all
    // Z3 resource units that the search for one answer may cost; decides alike on every machine.
    std::uint64_t work_limit = 400'000'000;
    std::uint64_t first_budget = 50'000;  // of each prover in the first round
    bool any_run = false;                 // the run of a hit is not for show
    KnownAnswers* known = nullptr;        // looked at first, and told what is found
    const StopFlag* stop = nullptr;       // time, memory, Ctrl-C
    // Told what is at work, so that it can be interrupted; null when nothing is.
    std::function<void(Interruptible*)> running;

    bool stopped() const { return stop && stop->raised(); }
    std::string why_stopped() const { return stop->why(); }  // once it is
};

// Tells who is at work while it is, whichever way that ends: a pointer left behind would be interrupted later.
class AtWork {
 public:
    AtWork(const JudgeOptions& o, Interruptible& who) : options_(o) {
        if (options_.running) options_.running(&who);
    }
    ~AtWork() {
        if (options_.running) options_.running(nullptr);
    }
    AtWork(const AtWork&) = delete;
    AtWork& operator=(const AtWork&) = delete;

 private:
    const JudgeOptions& options_;
};

struct Reachable {
    Run run;  // replayed
};
struct Unreachable {
    Certificate certificate;  // discharged in fresh solvers
};
struct Unknown {
    std::string reason;
    std::size_t depth = 0;  // leaps without a hit
};
using Answered = std::variant<Reachable, Unreachable, Unknown>;

// Solver work that one check of an answer may cost.
inline constexpr std::uint64_t check_budget = 100'000'000;
// Of each question about what a proof rests on.
inline constexpr std::uint64_t rests_on_budget = 20'000'000;

// Provers work in rounds of growing budgets; the first answer by (round, rank) wins. Nothing that a prover says is
// believed: a hit is derived anew and replayed, a certificate is checked. `prover` gets the winner's name. Throws
// InternalError.
Answered ask(const Question& q, const JudgeOptions& options, Timing& timing, std::string& prover);

// The leap lemma for the question's system; sets q.leaps, to false where the work limit ends first. Throws
// InternalError.
void settle_leaps(Question& q, const JudgeOptions& options, Timing& timing);

}  // namespace lanyard::prove
