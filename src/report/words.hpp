// How the reports call things: expressions, values, times, what a signal is and what it becomes.
#pragma once

#include <string>
#include <vector>

#include "base/characters.hpp"
#include "claims/verdict.hpp"
#include "model/model.hpp"

namespace lanyard::report {

// Characters of an expression in a line about a claim.
inline constexpr std::size_t longest_summary = 40;

// The expression as somebody would write it; cut to `width` characters with "..." if it is longer.
std::string text_of(const Model& model, const Expr& e);
std::string short_text(const Model& model, const Expr& e, std::size_t width);

// What a true and a false comparison of numbers say between "is" and the right side: "below ", "not above ".
std::string comparison_words(Op op, bool truth);

// "180 rpm", rounded to three places, for numeric signals.
std::string number_text(const Model& model, SignalId id, const Rational& value);
// The end of an interval of such values: "150 .. 250 rpm".
std::string interval_text(const Model& model, SignalId id, const Interval& interval);
// A value that belongs to an expression: a constant as it was written, others in the unit of the
// constant beside it or of a signal in it.
std::string operand_value(const Model& model, const Expr& e, const Expr& beside, const Rational& value, int places);

// "1 time", "3 scans"
std::string counted(long number, const std::string& what);

// "50 ms", "0.31 s", "12 min"
std::string duration_text(const Rational& seconds);
// "0.5 .. 2 s"
std::string times_text(const Interval& seconds);
// The time of a scan with as many places as the scan period has: "2.31 s".
std::string scan_time(const Model& model, long scan);

// What a signal is: "key on", "start pressed", "enable_relay closed", "engine cranking", "oil_pressure 12 psi".
std::string state_words(const Model& model, SignalId id, const Value& value);
// What it becomes: "start released", "enable_relay opens".
std::string change_words(const Model& model, SignalId id, const Value& value);

// "injectors and coils powered"
std::string loads_words(const Model& model, const std::vector<SignalId>& loads, bool powered);

// All that the certificate rests on. Elements first: they are what somebody can change.
std::vector<std::string> rests_on(const Certificate& certificate);

// Names in the order of their numbers, three or more in a row as one: "W1", "W5..W9".
std::vector<std::string> grouped(const std::vector<std::string>& names);

}  // namespace lanyard::report
