// Exact numbers. Every quantity between the model file and a verdict is one of these: a decimal in the file is
// exact, and no floating point is used on the way.
#pragma once

#include <gmpxx.h>

#include <optional>
#include <string>
#include <string_view>

#include "base/layers.hpp"

namespace lanyard::base {

using Rational = mpq_class;
using Integer = mpz_class;

// A JSON-style decimal ("12", "-0.5", "1.5e3") as an exact number; nothing else is accepted. The exponent is
// limited to +-99, so that a short text cannot ask for a number that fills the memory.
std::optional<Rational> parse_decimal(std::string_view text);

// Such a decimal, or a fraction of two of them: what exact_text writes.
std::optional<Rational> parse_fraction(std::string_view text);

// The shortest exact text: a decimal where one exists ("0.05"), otherwise a fraction ("50/9").
std::string exact_text(const Rational& value);

// A decimal for reading, rounded half away from zero to at most `places` digits behind the point.
std::string rounded_text(const Rational& value, int places);

Integer floor_of(const Rational& value);
Integer ceil_of(const Rational& value);

// How many scans of length `period` it takes until `duration` is reached: ceil(duration / period), in scans.
// Both in seconds, period > 0.
long scans_up(const Rational& duration, const Rational& period);

// floor(duration / period), in scans.
long scans_down(const Rational& duration, const Rational& period);

}  // namespace lanyard::base
