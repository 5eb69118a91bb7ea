// Makers of the provers in the table (provers.cpp).
#pragma once

#include "prove/prover.hpp"

namespace lanyard::prove {

std::unique_ptr<Prover> make_bounded(const Question& q);
std::unique_ptr<Prover> make_directed(const Question& q);
std::unique_ptr<Prover> make_lemmas(const Question& q);
// The same with these candidates instead of templates.
std::unique_ptr<Prover> make_lemmas_of(const Question& q, std::vector<std::string> lemmas);

}  // namespace lanyard::prove
