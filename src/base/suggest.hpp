// "did you mean ...?": the candidate that is nearest to a mistyped word.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/layers.hpp"

namespace lanyard::base {

// The candidate with the smallest edit distance (insert, delete, replace, swap of neighbours), if that distance is at
// most a third of the word's length (at least 1). Ties go to the first in the list.
std::optional<std::string> nearest(std::string_view word, const std::vector<std::string>& candidates);

}  // namespace lanyard::base
