// Values of a model's signals as a reader writes them.
#pragma once

#include <string>

#include "claims/run.hpp"
#include "model/model.hpp"

namespace lanyard::sim {

// The unit in which a numeric signal is shown.
Unit unit_of(const Model& model, SignalId id);
// All digits, with the unit: "3.5 bar".
std::string value_text(const Model& model, SignalId id, const Rational& value);
std::string difference_text(const Model& model, SignalId id, const Rational& value);
// "on", "off", a mode's name, or a number with its unit.
std::string value_text(const Model& model, SignalId id, const Value& value);
// "25 psi .. 75 psi"
std::string interval_text(const Model& model, SignalId id, const Interval& interval);

}  // namespace lanyard::sim
