// The table of units. All factors are exact. Where a factor is a definition it is quoted from the Guide for the Use of
// the International System of Units, NIST Special Publication 811 (2008), appendix B.8 (conversion factors; those
// printed in bold there are exact) or from the SI Brochure.

#include "lang/units.hpp"

#include <algorithm>
#include <cstdlib>

namespace lanyard::lang {

namespace {

// Metre, kilogram, second, ampere, kelvin, revolution, per cent.
using Exponents = std::array<int, 7>;

constexpr Exponents plain{};
constexpr Exponents length{1, 0, 0, 0, 0, 0, 0};
constexpr Exponents mass{0, 1, 0, 0, 0, 0, 0};
constexpr Exponents time{0, 0, 1, 0, 0, 0, 0};
constexpr Exponents current{0, 0, 0, 1, 0, 0, 0};
constexpr Exponents temperature{0, 0, 0, 0, 1, 0, 0};
constexpr Exponents rotation{0, 0, 0, 0, 0, 1, 0};
constexpr Exponents share{0, 0, 0, 0, 0, 0, 1};
constexpr Exponents rotation_speed{0, 0, -1, 0, 0, 1, 0};
constexpr Exponents frequency{0, 0, -1, 0, 0, 0, 0};
constexpr Exponents speed{1, 0, -1, 0, 0, 0, 0};
constexpr Exponents acceleration{1, 0, -2, 0, 0, 0, 0};
constexpr Exponents volume{3, 0, 0, 0, 0, 0, 0};
constexpr Exponents volume_flow{3, 0, -1, 0, 0, 0, 0};
constexpr Exponents mass_flow{0, 1, -1, 0, 0, 0, 0};
constexpr Exponents pressure{-1, 1, -2, 0, 0, 0, 0};
constexpr Exponents force{1, 1, -2, 0, 0, 0, 0};
constexpr Exponents torque{2, 1, -2, 0, 0, 0, 0};
constexpr Exponents power{2, 1, -3, 0, 0, 0, 0};
constexpr Exponents voltage{2, 1, -3, -1, 0, 0, 0};
constexpr Exponents resistance{2, 1, -3, -2, 0, 0, 0};

Rational decimal(const char* text) { return parse_decimal(text).value(); }
Rational fraction(const char* above, const char* below) { return decimal(above) / decimal(below); }

std::vector<Unit> make_units() {
    const char* const si = "SI Brochure";
    const char* const nist = "NIST SP 811, appendix B.8";
    const char* const own = "base unit of lanyard";
    const Rational psi = fraction("4.4482216152605", "0.00064516");
    return {
        {"s", {time}, 1, 0, "second", si},
        {"ms", {time}, fraction("1", "1000"), 0, "thousandth of a second", si},
        {"min", {time}, 60, 0, "minute", si},
        {"h", {time}, 3600, 0, "hour", si},
        {"degC", {temperature}, 1, decimal("273.15"), "degree Celsius", si},
        {"degF", {temperature}, fraction("5", "9"), fraction("45967", "180"), "degree Fahrenheit", nist},
        {"K", {temperature}, 1, 0, "kelvin: differences of temperatures", si},
        {"bar", {pressure}, 100000, 0, "bar", nist},
        {"psi", {pressure}, psi, 0, "pound-force per square inch", nist},
        {"kPa", {pressure}, 1000, 0, "kilopascal", si},
        {"mbar", {pressure}, 100, 0, "thousandth of a bar", nist},
        {"MPa", {pressure}, 1000000, 0, "megapascal", si},
        {"Pa", {pressure}, 1, 0, "pascal", si},
        {"rpm", {rotation_speed}, fraction("1", "60"), 0, "revolutions per minute", own},
        {"V", {voltage}, 1, 0, "volt", si},
        {"mV", {voltage}, fraction("1", "1000"), 0, "thousandth of a volt", si},
        {"A", {current}, 1, 0, "ampere", si},
        {"mA", {current}, fraction("1", "1000"), 0, "thousandth of an ampere", si},
        {"ohm", {resistance}, 1, 0, "ohm", si},
        {"kohm", {resistance}, 1000, 0, "thousand ohms", si},
        {"W", {power}, 1, 0, "watt", si},
        {"kW", {power}, 1000, 0, "kilowatt", si},
        {"%", {share}, 1, 0, "per cent (95 % is not 95)", own},
        {"mph", {speed}, decimal("0.44704"), 0, "miles per hour", nist},
        {"kn", {speed}, fraction("1852", "3600"), 0, "knot, nautical miles per hour", nist},
        {"g", {acceleration}, decimal("9.80665"), 0, "standard acceleration of free fall", nist},
        {"Hz", {frequency}, 1, 0, "times per second", si},
        {"rev", {rotation}, 1, 0, "revolution", own},
        {"deg", {rotation}, fraction("1", "360"), 0, "degree of angle", own},
        {"m", {length}, 1, 0, "metre", si},
        {"mm", {length}, fraction("1", "1000"), 0, "millimetre", si},
        {"km", {length}, 1000, 0, "kilometre", si},
        {"in", {length}, decimal("0.0254"), 0, "inch", nist},
        {"ft", {length}, decimal("0.3048"), 0, "foot", nist},
        {"kg", {mass}, 1, 0, "kilogram", si},
        {"lb", {mass}, decimal("0.45359237"), 0, "pound (mass)", nist},
        {"l", {volume}, fraction("1", "1000"), 0, "litre", si},
        {"N", {force}, 1, 0, "newton", si},
        {"Nm", {torque}, 1, 0, "newton metre: torque", si},
    };
}

struct NamedDimension {
    Exponents exponents;
    const char* name;
    const char* shown_in;  // the unit for values that came with none
};

const std::vector<NamedDimension>& named_dimensions() {
    static const std::vector<NamedDimension> names{
        {plain, "plain number", ""},
        {time, "time", "s"},
        {temperature, "temperature", "degC"},
        {pressure, "pressure", "bar"},
        {rotation_speed, "speed of rotation", "rpm"},
        {voltage, "voltage", "V"},
        {current, "current", "A"},
        {resistance, "resistance", "ohm"},
        {power, "power", "W"},
        {share, "percentage", "%"},
        {speed, "speed", "km/h"},
        {acceleration, "acceleration", "g"},
        {frequency, "frequency", "Hz"},
        {rotation, "angle", "deg"},
        {length, "length", "m"},
        {mass, "mass", "kg"},
        {volume, "volume", "l"},
        {volume_flow, "flow", "L/min"},
        {mass_flow, "mass flow", "kg/h"},
        {force, "force", "N"},
        {torque, "torque", "Nm"},
    };
    return names;
}

const char* const base_symbols[] = {"m", "kg", "s", "A", "K", "rev", "%"};

// "kg m2 / s3": what is left when the trade has no word.
std::string base_product(const Dimension& d) {
    std::string above, below;
    for (std::size_t i = 0; i < d.exponent.size(); ++i) {
        if (d.exponent[i] == 0) continue;
        std::string& part = d.exponent[i] > 0 ? above : below;
        const int times = std::abs(d.exponent[i]);
        part += (part.empty() ? "" : " ") + std::string(base_symbols[i]) + (times > 1 ? std::to_string(times) : "");
    }
    if (above.empty()) above = "1";
    return below.empty() ? above : above + "/" + (below.find(' ') == std::string::npos ? below : "(" + below + ")");
}

const Unit* find_single(std::string_view symbol) {
    for (const Unit& u : unit_table())
        if (u.symbol == symbol) return &u;
    return nullptr;
}

// A quotient of two units in which their dimensions are shown.
std::optional<Unit> find_quotient(const Dimension& d) {
    for (const NamedDimension& above : named_dimensions()) {
        for (const NamedDimension& below : named_dimensions()) {
            const std::string under = below.shown_in;
            const bool single = !under.empty() && under.find('/') == std::string::npos;
            if (!single || above.shown_in[0] == '\0' || Dimension{above.exponents} / Dimension{below.exponents} != d)
                continue;
            if (auto unit = find_unit(std::string(above.shown_in) + "/" + under)) return unit;
        }
    }
    return std::nullopt;
}

}  // namespace

Dimension operator*(const Dimension& a, const Dimension& b) {
    Dimension product;
    for (std::size_t i = 0; i < product.exponent.size(); ++i) product.exponent[i] = a.exponent[i] + b.exponent[i];
    return product;
}

Dimension operator/(const Dimension& a, const Dimension& b) {
    Dimension quotient;
    for (std::size_t i = 0; i < quotient.exponent.size(); ++i) quotient.exponent[i] = a.exponent[i] - b.exponent[i];
    return quotient;
}

const std::vector<Unit>& unit_table() {
    static const std::vector<Unit> table = make_units();
    return table;
}

std::optional<Unit> find_unit(std::string_view symbol) {
    constexpr int most_parts = 3;  // km/h/s
    std::optional<Unit> found;
    for (int part = 0; part < most_parts; ++part) {
        const std::size_t slash = symbol.find('/');
        const Unit* single = find_single(symbol.substr(0, slash));
        if (!single) return std::nullopt;
        if (!found) {
            found = *single;
        } else {
            found->symbol += "/" + single->symbol;
            found->dimension = found->dimension / single->dimension;
            found->factor /= single->factor;
            found->offset = 0;
            found->meaning += " per " + single->meaning;
            if (found->source != single->source) found->source += ", " + single->source;
        }
        if (slash == std::string_view::npos) return found;
        symbol.remove_prefix(slash + 1);
    }
    return std::nullopt;
}

std::string dimension_name(const Dimension& d) {
    for (const NamedDimension& n : named_dimensions())
        if (Dimension{n.exponents} == d) return n.name;
    // Rates of what has a name: "temperature per time" is how people speak.
    const Dimension before_rate = d * Dimension{time};
    for (const NamedDimension& n : named_dimensions())
        if (Dimension{n.exponents} == before_rate && !before_rate.is_plain()) return std::string(n.name) + " per time";
    return "value in " + base_product(d);
}

std::vector<std::string> dimension_names() {
    std::vector<std::string> all;
    for (const NamedDimension& n : named_dimensions()) all.emplace_back(n.name);
    return all;
}

Unit default_unit(const Dimension& d) {
    for (const NamedDimension& n : named_dimensions()) {
        if (Dimension{n.exponents} != d || n.shown_in[0] == '\0') continue;
        if (auto unit = find_unit(n.shown_in)) return *unit;
    }
    if (d.is_plain()) return {"", d, 1, 0, "plain number", ""};
    if (auto unit = find_quotient(d)) return *unit;
    return {base_product(d), d, 1, 0, "product of base units", ""};
}

Rational to_si(const Rational& number, const Unit& unit, bool difference) {
    return difference ? Rational{number * unit.factor} : Rational{number * unit.factor + unit.offset};
}

Rational from_si(const Rational& si, const Unit& unit, bool difference) {
    return difference ? Rational{si / unit.factor} : Rational{(si - unit.offset) / unit.factor};
}

}  // namespace lanyard::lang
