// Which tests show each condition of a decision acting alone.
//
// What it decides: the smallest set of combinations of a decision's conditions such that for each condition two of
// them differ in it and in the outcome, and in both of them the condition decides (turning it alone turns the outcome;
// all others are masked). This is the masking form of modified condition/decision coverage: RTCA DO-178C, glossary;
// K. Hayhurst et al., "A Practical Tutorial on Modified Condition/Decision Coverage", NASA/TM-2001-210876; J.
// Chilenski, "An Investigation of Three Forms of the MC/DC Criterion", DOT/FAA/AR-01/18 (masking by Boolean
// difference).
//
// How: the truth table, for each condition the combinations in which it decides, and a depth-first search with a
// growing limit on the size. The first size at which a set is found is the least.
//
// When it gives up: beyond `most_conditions` no table is made; beyond a fixed number of steps the set that is at hand
// is given, marked as not known to be the least.
// Tested by: tests/card/formula_test.cpp
#pragma once

#include <functional>
#include <optional>
#include <vector>

#include "lang/expr.hpp"

namespace lanyard::card {

inline constexpr std::size_t most_conditions = 10;

// Bit c is the value of condition c.
using Combination = unsigned;

class TruthTable {
 public:
    // The formula is a structure over signals, each of which is one of the conditions.
    TruthTable(const ExprPtr& formula, const std::vector<SignalId>& conditions);
    // Any function of n conditions.
    TruthTable(std::size_t n, const std::function<bool(Combination)>& f);

    std::size_t conditions() const { return n_; }
    bool operator()(Combination v) const { return value_[v]; }
    // Turning condition c alone turns the outcome.
    bool decides(std::size_t c, Combination v) const { return value_[v] != value_[v ^ (1U << c)]; }

 private:
    std::size_t n_;
    std::vector<bool> value_;
};

struct TestSet {
    std::vector<Combination> tests;      // rising
    std::vector<std::size_t> not_shown;  // conditions for which no two allowed combinations will do
    bool least = true;                   // known to be as few as can be
};

// `allowed`: combinations that may be used. `liked`: are taken where it makes no difference to the size.
TestSet smallest_tests(const TruthTable& table, const std::function<bool(Combination)>& allowed,
                       const std::function<bool(Combination)>& liked);

}  // namespace lanyard::card
