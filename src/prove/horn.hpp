// A system as constrained Horn clauses: start, step, and the target as a query.
#pragma once

#include "encode/system.hpp"

namespace lanyard::prove {

struct Horn {
    std::vector<z3::expr> rules;
    z3::func_decl invariant;
    z3::func_decl goal;
    std::vector<z3::expr> arguments;
};
// `lemmas` are facts that hold in every reachable state; they strengthen both clauses.
Horn horn_of(const System& s, const z3::expr& target, const std::vector<z3::expr>& lemmas);

// The same as a file for a Horn solver's command line (SMT-LIB 2.6, logic HORN).
std::string horn_text(const System& s, const z3::expr& target);

// The parts of a conjunction, as SMT-LIB texts.
std::vector<std::string> conjuncts(const z3::expr& e);

}  // namespace lanyard::prove
