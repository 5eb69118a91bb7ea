// The leap lemma: for this very model, a leap of k >= 2 scans equals one scan followed by a leap of k - 1.
#pragma once

#include "encode/system.hpp"

namespace lanyard::encode {

enum class LeapLemma { holds, refuted, unknown };

// `refuted` is an internal error; `unknown` means that the model must be analysed with k = 1 throughout.
LeapLemma leap_lemma(const System& s, std::uint64_t budget);

}  // namespace lanyard::encode
