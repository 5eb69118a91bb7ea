// Why a comparison of quantities can hold at no scan after a run into a trap, as far as the model says so: the bands of
// a healthy car in the modes that are left to the engine, and what the condition asks of the quantity.
#pragma once

#include <string>

#include "report/fixed.hpp"

namespace lanyard::report {

// "oil > 20 psi is true in no run from there (the engine can no longer be running, and oil is stopped 0 .. 2 psi,
// cranking 0 .. 12 psi)"
std::string never_again(const Film& film, const Fixed& fixed, const TrapFacts& facts, const Expr& comparison);

}  // namespace lanyard::report
