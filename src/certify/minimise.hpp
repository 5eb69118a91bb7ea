// A smaller certificate for the same proof.
#pragma once

#include "claims/question.hpp"

namespace lanyard::certify {

// Keeps the lemmas that the proof needs (unsatisfiable cores, followed until they are closed under the step). The
// answer is a certificate to be checked like any other; if the solver gives up, it is the given one. Its facts are
// what its lemmas say, wherever they come from.
Certificate minimise(const Question& q, const Certificate& c, std::uint64_t budget);

}  // namespace lanyard::certify
