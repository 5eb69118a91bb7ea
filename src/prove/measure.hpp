// How far a run is from the ordinary.
#pragma once

#include <compare>

#include "claims/run.hpp"

namespace lanyard::prove {

// Compared from left to right; less is more ordinary.
struct Measure {
    std::size_t faults = 0;
    std::size_t ill = 0;      // values that no healthy engine has
    std::size_t jumps = 0;    // quantities that change from one scan to the next
    std::size_t toggles = 0;  // of loads that nothing in the model feeds
    std::size_t events = 0;   // things that change, or are not at the beginning as they rest
    long scans = 0;
    long lateness = 0;  // sum of when they happen
    friend auto operator<=>(const Measure&, const Measure&) = default;
};

Measure measure_of(const Model& m, const Run& run);

// It comes and goes with the engine's mode.
bool is_speed(const Model& m, QuantityId i);

// The value that a healthy engine has in this mode and that is nearest; early in a mode it may have others too.
Rational healthy_value(const Model& m, QuantityId i, const Rational& value, Mode mode);

}  // namespace lanyard::prove
