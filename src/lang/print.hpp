// Typed expression -> text that compiles to the same expression again.
#pragma once

#include <functional>
#include <string>

#include "lang/expr.hpp"

namespace lanyard::lang {

// `name_of` tells the name of a signal, `table_name` that of a table.
std::string print(const Expr& e, const std::function<std::string(SignalId)>& name_of,
                  const std::function<std::string(TableId)>& table_name);

// "3.5 bar", "104 degC": a value for reading, in `unit`, rounded to at most `places` digits; `exact` instead gives
// all digits or a fraction.
std::string print_value(const Rational& si, const Unit& unit, bool difference, int places = 3);
std::string print_value_exact(const Rational& si, const Unit& unit, bool difference);
// "0.50 s", "12 min": times for stories.
std::string print_time(const Rational& seconds);

}  // namespace lanyard::lang
