// Expressions that nobody wrote, put together from parts, and expressions as text. `place`: what they stand for in the
// model file.
#pragma once

#include "model/model.hpp"

namespace lanyard::model {

ExprPtr signal_expr(const Model& model, SignalId id);
ExprPtr boolean_expr(Op op, std::vector<ExprPtr> args, const Place& place = {});
ExprPtr truth_expr(bool flag, const Place& place = {});
ExprPtr number_expr(const Rational& value, const Type& type);
ExprPtr mode_expr(Mode mode);

// Compiles to the same expression again.
std::string text_of(const Model& model, const Expr& e);

}  // namespace lanyard::model
