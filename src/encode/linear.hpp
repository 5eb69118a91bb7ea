// Numeric expressions that are a multiple of one quantity or reading plus a constant.
#pragma once

#include <optional>

#include "model/model.hpp"

namespace lanyard {

struct Linear {
    SignalId leaf = -1;  // -1: a constant
    Rational coefficient, constant;
};

// Sums, differences and multiples of one quantity or reading; nothing for anything else. Named numeric logic counts as
// what it stands for where `through_logic` (not where the controller's power can turn it into 0).
std::optional<Linear> linear(const Expr& e, const Model& m, bool through_logic);

}  // namespace lanyard
