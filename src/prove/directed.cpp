// Property-directed reachability.
//
// What it decides: both ways; a proof comes as an inductive invariant.
// Why it is sound: it need not be. Its invariant is checked by certify, and what it reaches is searched again by
// bounded search and replayed; so only invariants are taken from it.
// When it gives up: on timed procedures with many clocks it often finds no invariant within any sensible budget.
// A. R. Bradley, "SAT-based model checking without unrolling", VMCAI 2011; A. Komuravelli, A. Gurfinkel, S. Chaki,
// "SMT-based model checking for recursive programs", CAV 2014.
// Tested by: tests/cases_run/main.cpp, tests/lies/main.cpp
#include <mutex>

#include "certify/obligations.hpp"
#include "prove/horn.hpp"
#include "prove/provers.hpp"

namespace lanyard::prove {

namespace {

class Directed : public Prover {
 public:
    explicit Directed(const Question& q) : question_(q) {}

    Finding work(std::uint64_t budget) override {
        // A fresh context for each call: this prover does not go on where it was.
        auto ctx = std::make_unique<z3::context>();
        {
            const std::lock_guard<std::mutex> lock(mutex_);
            running_ = ctx.get();
        }
        Finding out = Nothing{};
        {
            const System s = system_of(*ctx, question_, false);
            const Horn h = horn_of(s, target_of(s, question_), {});
            const HornAnswer a = ask_horn(*ctx, h.rules, h.invariant, h.goal, h.arguments, budget);
            if (a.answer == Answer::unsatisfiable && a.invariant) {
                Certificate c;
                c.lemmas = conjuncts(*a.invariant);
                out = InvariantFound{std::move(c)};
            }
            if (a.answer == Answer::satisfiable) reached_ = true;
        }
        const std::lock_guard<std::mutex> lock(mutex_);
        running_ = nullptr;
        return out;
    }
    bool finished() const override { return reached_; }
    void interrupt() override {
        const std::lock_guard<std::mutex> lock(mutex_);
        if (running_) running_->interrupt();
    }

 private:
    Question question_;
    bool reached_ = false;
    std::mutex mutex_;
    z3::context* running_ = nullptr;
};

}  // namespace

std::unique_ptr<Prover> make_directed(const Question& q) { return std::make_unique<Directed>(q); }

}  // namespace lanyard::prove
