// Lemma candidates over the memory of blocks: what timers, latches, relays, engine and monitors typically have to do
// with each other, with constants taken from reachable states.
#pragma once

#include "prove/samples.hpp"

namespace lanyard {

struct Candidate {
    z3::expr holds;  // over the state before a step
};

// Every candidate holds in every sample.
std::vector<Candidate> candidates(const System& s, const std::vector<Sample>& samples);

}  // namespace lanyard
