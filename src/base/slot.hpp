#pragma once

#include <cstddef>

namespace lanyard {

// Things of a model are numbered by int, -1 for none; a list is asked by size_t.
inline std::size_t slot(int i) { return static_cast<std::size_t>(i); }

}  // namespace lanyard
