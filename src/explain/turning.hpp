// Where something turns on the way between two numbers, told in few digits.
//
// What it decides. Given a number `bad` at which something fails, one `good` at which it holds, and a way to try any
// other: a number at which it holds while it fails right beside it, on the side of `bad`. Numbers that are written in
// the model are tried first, then multiples of a step, by bisection.
//
// Why it is sound. Every number that is returned has been tried and holds; so has been tried what is said of its
// neighbour. Between `bad` and `good` it may turn more than once; one of these places is found. Where the place is no
// written number, it is rounded to about a thousandth of the range, away from `bad`, and tried again.
// Tested by: tests/explain/turning_test.cpp
#pragma once

#include <functional>
#include <optional>
#include <vector>

#include "base/rational.hpp"

namespace lanyard::explain {

struct Turning {
    Rational holds;
    // Fails here, and holds one step further on.
    std::optional<Rational> just_past = {};
};

// The numbers that can be told: origin + n * step. A coarse step is a power of ten of fine ones.
struct Ruler {
    Rational origin, fine, coarse;
};
// For numbers of this range in units of this size.
Ruler ruler_for(const Rational& width, const Rational& factor, const Rational& offset);

// `written`: rising. `holds` is asked of numbers between the two, at most about forty times.
Turning turning_between(const Rational& bad, const Rational& good, const std::vector<Rational>& written,
                        const Ruler& ruler, const std::function<bool(const Rational&)>& holds);

}  // namespace lanyard::explain
