#pragma once

#include "prove/prover.hpp"

namespace lanyard {

// The parts of a conjunction, as SMT-LIB texts.
std::vector<std::string> conjuncts(const z3::expr& e);

std::unique_ptr<Prover> make_directed(const Question& q);

}  // namespace lanyard
