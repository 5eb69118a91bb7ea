// Expressions put together and taken apart for the bench card.
#pragma once

#include <functional>

#include "model/make_expr.hpp"

namespace lanyard::card {

// The expression with every part replaced for which `f` gives something; parents are asked first.
ExprPtr replaced(const ExprPtr& e, const std::function<ExprPtr(const Expr&)>& f);

// Combines Booleans without memory: AND, OR, NOT, XOR, votes, equality of Booleans.
bool is_structure(const Expr& e);
// Its value, where `leaf` says that of what is no structure.
bool value_of(const Expr& e, const std::function<bool(const Expr&)>& leaf);

SignalId add_signal(Model& model, const std::string& name, SignalKind kind, const Type& type, AnyId index);
// A hand switch that rests off. The answer is its number; the controller sees it.
SwitchId add_switch(Model& model, const std::string& name);
// A named signal of the controller; where it stands in Model::order is the caller's business.
SignalId add_logic(Model& model, const std::string& name, ExprPtr is, bool retained);
void define(Model& model, SignalId id, ExprPtr is);

}  // namespace lanyard::card
