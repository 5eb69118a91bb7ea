// What makes a search slow, by name.
#pragma once

#include <string>
#include <vector>

#include "model/model.hpp"

namespace lanyard::report {

// Comparisons that look at two numbers that may both change, in what the claim depends on: "water <> previous(water)".
// One number that is compared with a constant can be leapt over; here each scan may be a step of its own. Each once, in
// the order of the file.
std::vector<std::string> comparisons_of_two(const Model& model, ClaimId claim);

}  // namespace lanyard::report
