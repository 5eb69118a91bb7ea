// Connectives that put truths and falsehoods away at once, so that formulas of a wiring stay as small as what can
// change in it.
#pragma once

#include <z3++.h>

#include "base/layers.hpp"

namespace lanyard::encode {

inline z3::expr folded_not(const z3::expr& a) {
    if (a.is_true()) return a.ctx().bool_val(false);
    if (a.is_false()) return a.ctx().bool_val(true);
    return a.is_app() && a.decl().decl_kind() == Z3_OP_NOT ? a.arg(0) : !a;
}
inline z3::expr folded_and(const z3::expr& a, const z3::expr& b) {
    if (a.is_false() || b.is_true() || z3::eq(a, b)) return a;
    if (b.is_false() || a.is_true()) return b;
    return a && b;
}
inline z3::expr folded_or(const z3::expr& a, const z3::expr& b) {
    if (a.is_true() || b.is_false() || z3::eq(a, b)) return a;
    if (b.is_true() || a.is_false()) return b;
    return a || b;
}

inline z3::expr folded_choice(const z3::expr& is, const z3::expr& on, const z3::expr& off) {
    if (z3::eq(on, off)) return on;
    if (on.is_true()) return folded_or(is, off);
    if (on.is_false()) return folded_and(folded_not(is), off);
    if (off.is_true()) return folded_or(folded_not(is), on);
    if (off.is_false()) return folded_and(is, on);
    return z3::ite(is, on, off);
}

}  // namespace lanyard::encode
