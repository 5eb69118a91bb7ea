// The constants that a quantity or a reading is compared with, found in the syntax tree.
#pragma once

#include <vector>

#include "model/model.hpp"

namespace lanyard::encode {

// A place between two cells of values: just above `at` (x <= at | x > at) or just below it (x < at | x >= at).
struct Cut {
    Rational at;
    bool above = false;
    friend bool operator<(const Cut& a, const Cut& b) { return a.at < b.at || (a.at == b.at && !a.above && b.above); }
    friend bool operator==(const Cut&, const Cut&) = default;
};

struct Cuts {
    std::vector<Cut> list;   // rising, each once
    bool other_use = false;  // it is also used otherwise than compared with a constant
};

// All uses of the signal in the whole model: logic, outputs, lines, conditions and claims.
Cuts cuts_of(const Model& model, SignalId signal);

}  // namespace lanyard::encode
