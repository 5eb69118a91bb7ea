// Makers of the provers in the table (provers.cpp).
#pragma once

#include "prove/prover.hpp"

namespace lanyard::prove {

std::unique_ptr<Prover> make_bounded(const Question& q);
std::unique_ptr<Prover> make_directed(const Question& q);
std::unique_ptr<Prover> make_lemmas(const Question& q);

}  // namespace lanyard::prove
