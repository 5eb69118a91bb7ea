// What of a quantity is a jump.
#pragma once

#include "model/model.hpp"

namespace lanyard::sim {

// It would cross its whole range in a second, or less, if it went on to change by so much from scan to scan. Never
// where the model says how fast it is.
inline bool is_jump(const Model& m, QuantityId i, const Rational& change) {
    const Quantity& q = m.quantities[i];
    return !q.moves() && abs(change) > (q.range.hi - q.range.lo) * m.scan;
}

}  // namespace lanyard::sim
