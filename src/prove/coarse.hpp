#pragma once

#include <vector>

#include "encode/system.hpp"

namespace lanyard::prove {

// After these many a search is content with what it finds on lines.
inline constexpr int max_refinements = 100;

// Points for finer rules of the products at one step of the solver's last model (which is of the relaxed system); none
// where every product is on one of its lines. `halve`: split cells in the middle, not where the model stands.
std::vector<Tangent> finer(const System& s, Solver& solver, const Renaming& at, bool halve);

}  // namespace lanyard::prove
