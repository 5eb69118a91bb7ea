// Numeric expressions in affine normal form.
#pragma once

#include <optional>
#include <vector>

#include "model/model.hpp"

namespace lanyard::encode {

// coefficient * what, for each term, and the constant. No two terms are of the same expression, no coefficient is 0.
struct Affine {
    struct Term {
        const Expr* what;  // a quantity, a reading, or whatever is neither a sum nor a multiple
        Rational coefficient;
    };
    std::vector<Term> terms;
    Rational constant;
};

// Named numeric logic counts as what it stands for where `through_logic` (not where the controller's power can turn it
// into 0).
Affine affine(const Expr& e, const Model& m, bool through_logic);

// The same expression, whoever evaluates it.
bool same_expression(const Expr& a, const Expr& b);

struct Linear {
    SignalId leaf;  // none: a constant
    Rational coefficient, constant;
};

// Sums, differences and multiples of one quantity or reading; nothing for anything else.
std::optional<Linear> linear(const Expr& e, const Model& m, bool through_logic);

}  // namespace lanyard::encode
