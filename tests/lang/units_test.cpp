// Facts about units. NIST SP 811 is the Guide for the Use of the International System of Units, 2008 edition,
// appendix B.8 (conversion factors) and section 4.2 (degrees Celsius).

#include "lang/units.hpp"

#include <catch2/catch.hpp>
#include <set>

#include "car.hpp"
#include "lang/words.hpp"

using namespace lanyard::lang;
using lanyard::test::dimension;

namespace {

Rational exactly(const std::string& text) {
    const std::size_t slash = text.find('/');
    if (slash == std::string::npos) return parse_decimal(text).value();
    return parse_decimal(text.substr(0, slash)).value() / parse_decimal(text.substr(slash + 1)).value();
}

Unit unit(const std::string& symbol) { return find_unit(symbol).value(); }

// A number in one unit, as a number in another.
Rational convert(const std::string& number, const std::string& from, const std::string& to, bool difference = false) {
    return from_si(to_si(exactly(number), unit(from), difference), unit(to), difference);
}

}  // namespace

TEST_CASE("pressures") {
    // NIST SP 811 B.8: pound-force 4.4482216152605 N (exact), inch 0.0254 m (exact), hence psi
    CHECK(convert("1", "psi", "Pa") == exactly("4.4482216152605/0.00064516"));
    // 1 psi = 6894.757293168... Pa and 10 psi = 0.68947573 bar (NIST SP 811 B.8, rounded there)
    CHECK(rounded_text(convert("1", "psi", "Pa"), 9) == "6894.757293168");
    CHECK(rounded_text(convert("10", "psi", "bar"), 8) == "0.68947573");
    // NIST SP 811 B.8: bar 1.0 E+05 Pa, millibar 1.0 E+02 Pa (both exact)
    CHECK(convert("1", "bar", "Pa") == 100000);
    CHECK(convert("1", "bar", "kPa") == 100);
    CHECK(convert("1", "mbar", "Pa") == 100);
    CHECK(convert("1", "MPa", "bar") == 10);
}

TEST_CASE("speeds") {
    // NIST SP 811 B.8: mile per hour 1.609344 km/h (exact), 0.44704 m/s (exact)
    CHECK(convert("1", "mph", "km/h") == exactly("1.609344"));
    CHECK(convert("1", "mph", "m/s") == exactly("0.44704"));
    CHECK(convert("3.6", "km/h", "m/s") == 1);
    // NIST SP 811 table 8: knot, 1852/3600 m/s
    CHECK(convert("1", "kn", "km/h") == exactly("1.852"));
    CHECK(convert("60", "rpm", "rev/s") == 1);
    CHECK(convert("6000", "rpm", "rev/s") == 100);
}

TEST_CASE("temperatures as points of a scale") {
    // NIST SP 811 section 4.2 and B.8: t/degC = T/K - 273.15, t/degF = 1.8 t/degC + 32
    CHECK(convert("0", "degC", "K") == exactly("273.15"));
    CHECK(convert("105", "degC", "degF") == 221);
    CHECK(convert("230", "degF", "degC") == 110);
    CHECK(convert("-40", "degF", "degC") == -40);
    CHECK(convert("32", "degF", "K") == exactly("273.15"));
    CHECK(convert("212", "degF", "degC") == 100);
    CHECK(convert("0", "K", "degF") == exactly("-459.67"));
}

TEST_CASE("temperatures as differences") {
    // NIST SP 811 B.8: temperature interval, 1 degF = 1/1.8 K
    CHECK(to_si(10, unit("degF"), true) == exactly("50/9"));
    CHECK(convert("10", "degF", "K", true) == exactly("50/9"));
    CHECK(convert("5", "degC", "K", true) == 5);
    CHECK(convert("9", "degF", "degC", true) == 5);
}

TEST_CASE("lengths, masses, volumes, acceleration") {
    // NIST SP 811 B.8, exact ones: inch 2.54 cm, foot 0.3048 m, pound 0.45359237 kg, litre 1.0 E-03 m3,
    // standard acceleration of free fall 9.80665 m/s2
    CHECK(convert("1", "in", "mm") == exactly("25.4"));
    CHECK(convert("1", "ft", "m") == exactly("0.3048"));
    CHECK(convert("12", "in", "ft") == 1);
    CHECK(convert("1", "lb", "kg") == exactly("0.45359237"));
    CHECK(unit("l").factor == exactly("0.001"));
    CHECK(unit("g").factor == exactly("9.80665"));
    CHECK(unit("g").dimension == dimension("m/s/s"));
}

TEST_CASE("times and electricity") {
    CHECK(convert("1500", "ms", "s") == exactly("1.5"));
    CHECK(convert("2", "h", "min") == 120);
    CHECK(convert("1", "min", "s") == 60);
    CHECK(convert("12000", "mV", "V") == 12);
    CHECK(convert("4", "mA", "A") == exactly("0.004"));
    // SI Brochure: W = V A, ohm = V/A, Hz = 1/s
    CHECK(unit("V").dimension * unit("A").dimension == unit("W").dimension);
    CHECK(unit("V/A").dimension == unit("ohm").dimension);
    CHECK(unit("Hz").dimension * unit("s").dimension == Dimension{});
    CHECK(unit("N").dimension * unit("m").dimension == unit("Nm").dimension);
    CHECK(unit("Nm/s").dimension == unit("W").dimension);
}

TEST_CASE("a revolution and a per cent are nothing else") {
    CHECK(unit("rpm").dimension != unit("Hz").dimension);
    CHECK_FALSE(unit("%").dimension.is_plain());
    CHECK(unit("deg").dimension == unit("rev").dimension);
    CHECK(convert("360", "deg", "rev") == 1);
}

TEST_CASE("quotients of units") {
    CHECK(unit("V/psi").symbol == "V/psi");
    CHECK(unit("degC/s").offset == 0);
    CHECK(unit("degF/min").factor == exactly("5/540"));
    CHECK(unit("km/h/s").dimension == dimension("g"));
    CHECK(unit("%/s").dimension == unit("%").dimension / unit("s").dimension);
    for (const char* wrong :
         {"", "/", "V/", "/s", "V//s", "V/x", "x/s", "V /psi", "degc", "PSI", "a/b/c", "m/s/s/s", "km/h/s/s"}) {
        INFO(wrong);
        CHECK_FALSE(find_unit(wrong));
    }
}

TEST_CASE("every unit of the table is in order") {
    std::set<std::string> symbols;
    for (const Unit& u : unit_table()) {
        INFO(u.symbol);
        CHECK(symbols.insert(u.symbol).second);
        CHECK(u.factor > 0);
        CHECK_FALSE(u.meaning.empty());
        CHECK_FALSE(u.source.empty());
        CHECK((u.offset == 0 || u.dimension.is_temperature()));
        CHECK((u.symbol == "%" || is_name(u.symbol)));
        CHECK((u.symbol == "%" || is_reserved(u.symbol)));
        CHECK(find_word(u.symbol) == nullptr);
        CHECK(find_unit(u.symbol)->factor == u.factor);
        // there and back again
        for (const bool difference : {false, true})
            CHECK(from_si(to_si(exactly("-12.75"), u, difference), u, difference) == exactly("-12.75"));
    }
}

TEST_CASE("every dimension has a name and a unit to be shown in") {
    for (const Unit& above : unit_table())
        for (const Unit& below : unit_table()) {
            for (const Dimension& d :
                 {above.dimension, above.dimension * below.dimension, above.dimension / below.dimension}) {
                CHECK_FALSE(dimension_name(d).empty());
                const Unit shown = default_unit(d);
                CHECK(shown.dimension == d);
                CHECK(shown.factor > 0);
            }
        }
    CHECK(default_unit({}).symbol.empty());
    CHECK(default_unit(dimension("psi")).symbol == "bar");
    CHECK(default_unit(dimension("K")).symbol == "degC");
    CHECK(default_unit(dimension("degC/s")).symbol == "degC/s");
    CHECK(default_unit(dimension("V/psi")).symbol == "V/bar");
    CHECK(default_unit(dimension("mph/s")).symbol == "g");
    CHECK(dimension_name(dimension("psi")) == "pressure");
    CHECK(dimension_name(dimension("rpm")) == "speed of rotation");
    CHECK(dimension_name(dimension("psi/s")) == "pressure per time");
    CHECK(dimension_name({}) == "plain number");
    CHECK(dimension_name(dimension("V") * dimension("V")) == "value in m4 kg2/(s6 A2)");
    CHECK(dimension_name(Dimension{} / dimension("K")) == "value in 1/K");
}

TEST_CASE("what people mean by a unit that is none") {
    CHECK(unit_meant_by("sec") == "s");
    CHECK(unit_meant_by("C") == "degC");
    CHECK(unit_meant_by("F") == "degF");
    CHECK(unit_meant_by("RPM") == "rpm");
    CHECK(unit_meant_by("Bar") == "bar");
    CHECK(unit_meant_by("kph") == "km/h");
    CHECK(unit_meant_by("pis") == "psi");
    CHECK(unit_meant_by("v") == "V");
    CHECK(unit_meant_by("furlong").empty());
}
