// A smaller certificate for the same proof, and what it rests on.
#pragma once

#include "certify/obligations.hpp"

namespace lanyard {

// Keeps the lemmas that the proof needs (unsatisfiable cores, followed until they are closed under the step), and fills
// in assumptions, elements and unused elements. The answer is a certificate to be checked like any other; if the
// solver gives up, it is the given one.
Certificate minimise(const Question& q, const Certificate& c, std::uint64_t budget);

// The same, and of the assumptions and elements that it names none can be taken out with these lemmas (but for what the
// solver gives up on). Costs a check for each of them.
Certificate pared_down(const Question& q, const Certificate& c, std::uint64_t budget);

}  // namespace lanyard
