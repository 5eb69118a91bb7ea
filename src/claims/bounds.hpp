// Arithmetic of a claim's time bound, which the interpreter, the encoding and the reports must agree on.
#pragma once

#include "base/rational.hpp"
#include "model/model.hpp"

namespace lanyard::claims {

// Response while it lasts: q must be true at every scan at which p has held for this many consecutive scans, the
// present one included: max(1, floor((d + t) / P) - 1). A condition may begin just after a sample and an output takes
// effect up to one scan late; both are in it.
// Once begun: q must have been true by the scan of this number, counted from the first of the scans with p as 1.
// In total: by the scan of this number, counted from the scan at which the total was reached as 1; d is not part of it.
long response_bound(const Response& r, const Rational& scan);
// Once begun, in total: p calls for q when it has held for so many scans: max(1, floor(d / P)).
long response_calls(const Response& r, const Rational& scan);
// No controller of this scan period can meet it: d + t < 2 P, or t < 2 P where d has passed before q is called for.
bool response_is_too_fast(const Response& r, const Rational& scan);

// Scans of a window of this length, both ends included: floor(t / P) + 1 for changes, max(1, floor(t / P)) for totals.
long change_window(const ChangeLimit& l, const Rational& scan);
long total_window(const Response& r, const Rational& scan);

}  // namespace lanyard::claims
