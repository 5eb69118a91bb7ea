// The smallest causes of a top event.
#pragma once

#include <vector>

#include "base/diagrams.hpp"

namespace lanyard::fault {

// Numbers of basic events that together bring about the top event; ascending, each once.
using CutSet = std::vector<std::size_t>;

inline constexpr std::size_t max_listed = 100'000;

// Coherent in the sense that no further failure ever undoes the top event: the function is monotone in each event.
// (That every event matters, which some texts ask for too, is not asked for here.)
bool is_coherent(Diagrams& s, Function f);

// All prime implicants: products of literals that imply the function and stop doing so without any one of their
// literals. Sorted by number of literals, then by the events. Throws TooLarge if there are more than `limit`.
std::vector<Implicant> prime_implicants(Diagrams& s, Function f, std::size_t limit = max_listed);

// All minimal cut sets of a coherent function, sorted by order (number of events), then by the events. {} (no set) for
// a function that is never true, {{}} for one that always is. Throws std::invalid_argument if the function is not
// coherent - ask is_coherent() first -, TooLarge if there are more than `limit`.
std::vector<CutSet> minimal_cut_sets(Diagrams& s, Function f, std::size_t limit = max_listed);

}  // namespace lanyard::fault
