// Single numbers and intervals.

#include <catch2/catch.hpp>

#include "car.hpp"

using namespace lanyard::lang;
using namespace lanyard::test;

namespace {

std::optional<NumberWithUnit> number(const std::string& text, const char* unit, bool difference = true) {
    Diagnostics out;
    const auto n = compile_number(located(text), dimension(unit), difference, "the value", out);
    CHECK(n.has_value() == out.list().empty());
    return n;
}

std::optional<Interval> interval(const std::string& text, const char* unit, bool difference = true) {
    Diagnostics out;
    const auto i = compile_interval(located(text), dimension(unit), difference, "the range", out);
    CHECK(i.has_value() == out.list().empty());
    return i;
}

Rational r(const char* text) { return parse_decimal(text).value(); }

}  // namespace

TEST_CASE("numbers with units") {
    CHECK(number("10 ms", "s")->si == r("0.01"));
    CHECK(number("10ms", "s")->si == r("0.01"));
    CHECK(number(" 1.5 min ", "s")->si == 90);
    CHECK(number("-40 degC", "K", false)->si == r("233.15"));
    CHECK(number("1 degC", "K", true)->si == 1);
    CHECK(number("0.5 K", "K", true)->si == r("0.5"));
    CHECK(number("95 %", "%")->si == 95);
    CHECK(number("0.85", "")->si == r("0.85"));
    CHECK(number("0.04 V/psi", "V/psi")->unit.symbol == "V/psi");
    CHECK(number("10 ms", "s")->written == "10 ms");
    CHECK(number("- 10 ms", "s")->written == "-10 ms");
}

TEST_CASE("intervals") {
    CHECK(interval("0.5 .. 2 s", "s") == Interval{r("0.5"), 2});
    CHECK(interval("0..5 bar", "psi") == Interval{0, 500000});
    CHECK(interval("500 ms .. 2 s", "s") == Interval{r("0.5"), 2});
    CHECK(interval("-40 .. 150 degC", "degC", false) == Interval{r("233.15"), r("423.15")});
    CHECK(interval("-40 degF .. 100 degC", "degC", false) == Interval{r("233.15"), r("373.15")});
    CHECK(interval("-2 .. 0.5 degC/s", "K/s") == Interval{-2, r("0.5")});
    CHECK(interval("3 .. 3 V", "V") == Interval{3, 3});
    CHECK(interval("0.7 .. 1.3", "") == Interval{r("0.7"), r("1.3")});
    const auto mixed = interval("15 psi .. 2 bar", "psi");
    REQUIRE(mixed);
    CHECK(mixed->lo == to_si(15, find_unit("psi").value(), true));
    CHECK(mixed->hi == 200000);
}

TEST_CASE("intervals of a unit that is not known yet") {
    const auto own = [](const std::string& text) {
        Diagnostics out;
        return compile_interval(located(text), "the range of boost", out);
    };
    CHECK(own("0 .. 2 bar")->second.symbol == "bar");
    CHECK(own("0 .. 2 bar")->first == Interval{0, 200000});
    CHECK(own("0 psi .. 2 bar")->second.symbol == "bar");
    CHECK(own("0.7 .. 1.3")->second.symbol.empty());
    CHECK(own("0.7 .. 1.3")->second.dimension.is_plain());
    CHECK(own("0 .. 20 degC")->first == Interval{r("273.15"), r("293.15")});
    CHECK(own("0 .. 20 V/s")->second.symbol == "V/s");
    CHECK_FALSE(own("0 V .. 2 bar"));
    CHECK_FALSE(own("2 .. 1 bar"));
    CHECK_FALSE(own(""));
}
