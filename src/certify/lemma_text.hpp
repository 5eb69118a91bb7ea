// SMT-LIB texts of lemmas as terms over the names of one system.
//
// Lemmas travel as text: from a prover's solver to the checker's, and through a file that --keep wrote. A solver's own
// parser obeys commands (it forgets assertions, writes files), so none of these texts is given to it. This reader knows
// one thing, an expression, and of that only what a lemma can be made of: the system's own names, numbers, `let`, and
// the operators of a table with the sorts that they take. Everything else is no lemma.
//
// It keeps its own stack, so that nesting ends at a limit and never in an overflow.
// Tested by: tests/certify/lemma_text_test.cpp
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "encode/system.hpp"

namespace lanyard::certify {

struct LemmaLimits {
    std::size_t depth = 1'000'000;  // of the term, what `let` names counted where it is used
    std::size_t characters = std::size_t{1} << 30U;
    std::size_t number = 10'000;  // characters of one number
};

// Nothing where a text is anything else than one balanced expression of the sort Bool.
std::optional<std::vector<z3::expr>> parse_lemmas(const System& s, const std::vector<std::string>& texts,
                                                  const LemmaLimits& limits = {});

}  // namespace lanyard::certify
