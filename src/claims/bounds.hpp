// Arithmetic of a claim's time bound, which the interpreter, the encoding and the reports must agree on.
#pragma once

#include "base/rational.hpp"
#include "model/model.hpp"

namespace lanyard {

// Response: q must be true at every scan at which p has held for this many consecutive scans, the present one
// included: max(1, floor((d + t) / P) - 1). A condition may begin just after a sample and an output takes effect up
// to one scan late; both are in it.
long response_bound(const Response& r, const Rational& scan);
// d + t < 2 P: no controller of this scan period can meet it.
bool response_is_too_fast(const Response& r, const Rational& scan);

}  // namespace lanyard
