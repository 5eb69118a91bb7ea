// Bounded search.
//
// What it decides: whether the target is hit within d leaps, for d = 1, 2, 3 ..., so the first hit is a shortest one.
// Why it is sound: the unrolling is the system itself, step by step; every leap is a run (leap.cpp).
// Two-way tables are relaxed: a hit counts where their products are exact. What is reached elsewhere only may be no
// run, and says where the relaxation is too coarse. When it gives up: it can only refute. A search that finds nothing
// proves nothing, whatever its depth. A. Biere, A. Cimatti, E. Clarke, Y. Zhu, "Symbolic model checking without BDDs",
// TACAS 1999.
// Tested by: tests/encode/clocks_test.cpp, tests/prove/beyond_test.cpp, tests/lies/main.cpp
#include "certify/obligations.hpp"

#include <algorithm>

#include "encode/unroll.hpp"
#include "prove/coarse.hpp"
#include "prove/provers.hpp"

namespace lanyard::prove {

namespace {

class Bounded : public Prover {
 public:
    explicit Bounded(const Question& q)
        : system_(system_of(ctx_, q, false)),
          solver_(ctx_),
          unrolling_(system_, solver_),
          target_(target_of(system_, q)),
          fine_(ctx_.bool_const("fine")),
          refined_(q.refined) {}

    Finding work(std::uint64_t budget) override {
        std::uint64_t left = budget;
        while (left > 0) {
            if (unrolling_.depth() == clear_) {
                unrolling_.extend();
                for (const auto& g : system_.grid) solver_.add(z3::implies(fine_, unrolling_.step(clear_)(g)));
            }
            const Renaming& at = unrolling_.step(clear_);
            const z3::expr hit = ctx_.bool_const(("hit@" + std::to_string(clear_)).c_str());
            if (asked_ != clear_ + 1) {
                solver_.add(z3::implies(hit, at(target_) && at.k() == 1));
                asked_ = clear_ + 1;
            }
            Answer a = solver_.check({hit, fine_}, left);
            if (a == Answer::satisfiable) return Reached{clear_ + 1};
            if (a == Answer::unknown) break;
            if (refined_ < max_refinements && !system_.products.empty()) {
                a = solver_.check({hit}, left);
                if (a == Answer::satisfiable) return coarse();
                if (a == Answer::unknown) break;
            }
            solver_.add(!hit);
            ++clear_;
            left -= std::min(left, solver_.work() + 1000);
        }
        return Nothing{clear_};
    }
    void interrupt() override { ctx_.interrupt(); }

 private:
    // Of the last model, which hits with a product that is none.
    Finding coarse() {
        TooCoarse out;
        const bool halve = refined_ % 4 == 0;
        for (std::size_t n = 0; n <= clear_; ++n)
            for (auto& t : finer(system_, solver_, unrolling_.step(n), halve)) out.tangents.push_back(std::move(t));
        return out;
    }

    z3::context ctx_;
    System system_;
    Solver solver_;
    Unrolling unrolling_;
    z3::expr target_, fine_;
    int refined_;
    std::size_t clear_ = 0, asked_ = 0;
};

}  // namespace

std::unique_ptr<Prover> make_bounded(const Question& q) { return std::make_unique<Bounded>(q); }

}  // namespace lanyard::prove
