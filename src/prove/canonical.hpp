// One canonical search derives every run that is shown, whoever found that there is one: at the least depth, with the
// fewest changes, then short waits, then round numbers. Nothing in it depends on threads or on the clock.
#pragma once

#include <optional>

#include "encode/unroll.hpp"
#include "prove/prover.hpp"

namespace lanyard::prove {

// A run of exactly `depth` leaps that hits the target; nothing if there is none (or the solver gives up).
std::optional<PartialRun> canonical_run(const Question& q, std::size_t depth);
// The same without the wishes: for runs that nobody is shown.
std::optional<PartialRun> any_run(const Question& q, std::size_t depth);

}  // namespace lanyard::prove
