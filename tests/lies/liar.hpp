// Tells one lie: the nth of what the solver says that can carry it is said wrongly.
#pragma once

#include <array>
#include <atomic>

#include "base/ids.hpp"
#include "encode/solver.hpp"

namespace lanyard::test {

using namespace encode;

enum class Lie { none, flip_to_sat, flip_to_unsat, unknown_to_unsat, change_value, drop_conjunct, weaken_conjunct };
inline constexpr Lie all_lies[] = {Lie::none,         Lie::flip_to_sat,   Lie::flip_to_unsat,  Lie::unknown_to_unsat,
                                   Lie::change_value, Lie::drop_conjunct, Lie::weaken_conjunct};

class Liar : public AnswerFilter {
 public:
    // `at`: counted over what can carry it. `which`: the conjunct, counted round; weakened by an alternative taken from
    // its neighbour. Lies as long as it is there.
    Liar(Lie kind, long at, std::size_t which) : kind_(kind), at_(at), which_(which) { installed = this; }
    ~Liar() override { installed = nullptr; }
    Liar(const Liar&) = delete;
    Liar& operator=(const Liar&) = delete;

    Answer answer(Answer truth) override;
    z3::expr value(const z3::expr& truth) override;
    z3::expr invariant(const z3::expr& truth) override;
    void lemmas(std::vector<std::string>& truth) override;

    bool has_lied() const { return has_lied_; }
    // What could have carried a lie of the kind so far.
    long seen(Lie kind) const { return seen_[ordinal(kind)]; }

 private:
    bool now(Lie kind);

    const Lie kind_;
    const long at_;
    const std::size_t which_;
    std::array<std::atomic<long>, std::size(all_lies)> seen_{};
    std::atomic<bool> has_lied_{false};
};

}  // namespace lanyard::test
