// Units of measurement: one table with exact factors. Values are kept in coherent SI units (K, Pa, s, V, A, m/s ...)
// with two additions: a revolution and a per cent are base units of their own, so that "95" is never taken for
// "95 %" nor "3000" for "3000 rpm".
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/rational.hpp"

namespace lanyard::lang {

// Exponents of metre, kilogram, second, ampere, kelvin, revolution, per cent.
struct Dimension {
    std::array<int, 7> exponent{};

    bool is_plain() const { return exponent == std::array<int, 7>{}; }
    bool is_temperature() const { return exponent == std::array<int, 7>{0, 0, 0, 0, 1, 0, 0}; }
    bool is_time() const { return exponent == std::array<int, 7>{0, 0, 1, 0, 0, 0, 0}; }
    friend bool operator==(const Dimension&, const Dimension&) = default;
    friend Dimension operator*(const Dimension& a, const Dimension& b);
    friend Dimension operator/(const Dimension& a, const Dimension& b);
};

struct Unit {
    std::string symbol;   // as written in a model: "psi", "V/psi"
    Dimension dimension;  //
    Rational factor;      // SI value = number * factor + offset
    Rational offset;      // only for degC and degF as absolutes, otherwise 0
    std::string meaning;  // for the help text
    std::string source;   // of the factor
};

// The table of single units, in the order in which help prints it.
const std::vector<Unit>& unit_table();

// A unit of the table, or a quotient of two of them ("degC/s"; the offsets of its parts do not count).
std::optional<Unit> find_unit(std::string_view symbol);

// "pressure", "temperature", "speed of rotation", or a product of base units where the trade has no word.
std::string dimension_name(const Dimension& d);
// All that the trade has a word for.
std::vector<std::string> dimension_names();

// A unit in which a value of this dimension is shown when nobody named one; never fails.
Unit default_unit(const Dimension& d);

// Conversions. `difference` leaves the offset out (a difference of 10 degF is 50/9 K).
Rational to_si(const Rational& number, const Unit& unit, bool difference);
Rational from_si(const Rational& si, const Unit& unit, bool difference);

}  // namespace lanyard::lang
