// Names of parts in sentences.
#pragma once

#include <string>
#include <vector>

#include "model/circuit.hpp"

namespace lanyard::circuit {

// The part that a branch belongs to: "`K1`" of "K1.make", "`W1`" of "W1.2".
std::string part_of_branch(const Branch& branch);
// The branch itself as paths have it: "`W1.2`", "`K1.coil`", "`pump`".
std::string name_of_part(const Branch& branch);

// "a, b and c"; of many the first ones only.
std::string listed(const std::vector<std::string>& items);

}  // namespace lanyard::circuit
