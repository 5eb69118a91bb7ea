// Lemma candidates over the memory of blocks: what timers, latches, relays, engine and monitors typically have to do
// with each other, with constants taken from reachable states. A bad state costs a lemma, no more.
#pragma once

#include <vector>

#include "claims/question.hpp"
#include "encode/system.hpp"

namespace lanyard::prove {

// One value per state variable; Booleans are 0 and 1, numbers that are no whole ones are left out (0).
using Sample = std::vector<long>;

// States met by the interpreter's random runs (fixed seeds), the initial one first, each once.
std::vector<Sample> sample_states(const System& s, const Question& q, unsigned runs, long scans);

struct Candidate {
    z3::expr holds;  // over the state before a step
};

// Every candidate holds in every sample.
std::vector<Candidate> candidates(const System& s, const std::vector<Sample>& samples);

}  // namespace lanyard::prove
