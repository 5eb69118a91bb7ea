// The only door to Z3's verdicts. Z3 answers sat, unsat or unknown, and its C++ enum makes `unknown` look like true;
// here the three answers are a type of their own, budgets are deterministic (Z3's resource counter, never the
// clock), and a test can stand in this door and change what is said (AnswerFilter), to see that the checks catch it.
#pragma once

#include <z3++.h>

#include <atomic>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "base/layers.hpp"

namespace lanyard::encode {

enum class Answer { satisfiable, unsatisfiable, unknown };

// Stands between the solver and whoever asks it. Nothing but in tests, which change what is said, to see that none of
// it becomes a verdict unchecked. Called by all threads that ask.
class AnswerFilter {
 public:
    virtual ~AnswerFilter() = default;
    virtual Answer answer(Answer truth) = 0;
    virtual z3::expr value(const z3::expr& truth) = 0;         // of a model
    virtual z3::expr invariant(const z3::expr& truth) = 0;     // that a Horn query came with
    virtual void lemmas(std::vector<std::string>& truth) = 0;  // that are left of a certificate

    // Not changed while somebody asks.
    inline static std::atomic<AnswerFilter*> installed{nullptr};
};

// Conjunction and disjunction, also of nothing (Z3's own then prints what other solvers cannot read) and of one.
z3::expr all_of(const z3::expr_vector& parts);
z3::expr any_of(const z3::expr_vector& parts);

class Solver {
 public:
    explicit Solver(z3::context& ctx);

    void add(const z3::expr& e);
    void push();
    void pop();
    Answer check() { return check({}); }
    // `budget` in Z3 resource units for this call; 0 = no limit.
    Answer check(const std::vector<z3::expr>& assumptions, std::uint64_t budget = 0);
    // Asserts `e` if it can hold together with all that is asserted, and then reads values from such a model; else
    // leaves everything as it was. False too when the budget ends.
    bool add_if_possible(const z3::expr& e, std::uint64_t budget);
    // Value of `e` in the model of the last satisfiable answer; total (don't-cares get a value).
    z3::expr value(const z3::expr& e);
    bool holds(const z3::expr& boolean);
    // Members of the last unsatisfiable answer's assumptions that were needed.
    std::vector<z3::expr> core();
    // Resource units used by the last check.
    std::uint64_t work() const { return work_; }
    z3::context& context() { return *ctx_; }

 private:
    void start_anew();

    z3::context* ctx_;
    z3::solver solver_;
    std::vector<z3::expr> asserted_;
    std::vector<std::ptrdiff_t> levels_;
    std::optional<z3::model> model_;
    std::uint64_t work_ = 0;
};

// Resource units that a context has used so far.
std::uint64_t work_of(z3::context& ctx);

struct HornAnswer {
    Answer answer = Answer::unknown;    // satisfiable: the query is reachable; unsatisfiable: it is not
    std::optional<z3::expr> invariant;  // over `arguments`, when unreachable; to be checked before it is believed
    std::uint64_t work = 0;
};
// Is `query` (a 0-ary relation) derivable? Property-directed reachability (Spacer). `relation`: the one whose
// invariant is wanted, over `arguments`.
HornAnswer ask_horn(z3::context& ctx, const std::vector<z3::expr>& rules, const z3::func_decl& relation,
                    const z3::func_decl& query, const std::vector<z3::expr>& arguments, std::uint64_t budget);

}  // namespace lanyard::encode
