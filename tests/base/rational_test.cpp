#include "base/rational.hpp"

#include <catch2/catch.hpp>
#include <limits>

using namespace lanyard::base;

namespace {

Rational r(const char* text) {
    Rational value{text};
    value.canonicalize();
    return value;
}

}  // namespace

TEST_CASE("decimals are exact") {
    CHECK(parse_decimal("0") == Rational{0});
    CHECK(parse_decimal("12") == Rational{12});
    CHECK(parse_decimal("-0.5") == r("-1/2"));
    CHECK(parse_decimal("0.1") == r("1/10"));
    CHECK(parse_decimal("1.5e3") == Rational{1500});
    CHECK(parse_decimal("1E+2") == Rational{100});
    CHECK(parse_decimal("25e-3") == r("1/40"));
    CHECK(parse_decimal("-0") == Rational{0});
    CHECK(parse_decimal("123456789012345678901234567890.5") == r("246913578024691357802469135781/2"));
    CHECK(parse_decimal("1e99").value() / parse_decimal("1e98").value() == Rational{10});
}

TEST_CASE("what is no decimal is refused") {
    for (const char* text : {"",
                             "-",
                             "+1",
                             ".5",
                             "5.",
                             "05",
                             "00",
                             "1,5",
                             "1e",
                             "1e+",
                             "1e100",
                             "1e-100",
                             "1e99999999999999999999",
                             "0x10",
                             "1/2",
                             " 1",
                             "1 ",
                             "nan",
                             "inf",
                             "1.2.3",
                             "1_000",
                             "--1"}) {
        INFO(text);
        CHECK_FALSE(parse_decimal(text));
    }
}

TEST_CASE("exact text is a decimal where there is one") {
    CHECK(exact_text(Rational{0}) == "0");
    CHECK(exact_text(Rational{-12}) == "-12");
    CHECK(exact_text(r("1/20")) == "0.05");
    CHECK(exact_text(r("-7/8")) == "-0.875");
    CHECK(exact_text(r("1/3")) == "1/3");
    CHECK(exact_text(r("50/9")) == "50/9");
    CHECK(exact_text(r("-1/6")) == "-1/6");
    CHECK(exact_text(Rational{1000}) == "1000");
}

TEST_CASE("exact text of a decimal reads back as the same number") {
    for (int above = -50; above <= 50; ++above)
        for (int below : {1, 2, 4, 5, 8, 10, 16, 25, 125, 1000}) {
            Rational value{above, below};
            value.canonicalize();
            INFO(value.get_str());
            CHECK(parse_decimal(exact_text(value)) == value);
        }
}

TEST_CASE("rounding is half away from zero and drops zeros at the end") {
    CHECK(rounded_text(r("1/8"), 2) == "0.13");
    CHECK(rounded_text(r("-1/8"), 2) == "-0.13");
    CHECK(rounded_text(r("1/3"), 3) == "0.333");
    CHECK(rounded_text(r("2/3"), 0) == "1");
    CHECK(rounded_text(r("1/2"), 0) == "1");
    CHECK(rounded_text(r("-1/2"), 0) == "-1");
    CHECK(rounded_text(r("5/2"), 3) == "2.5");
    CHECK(rounded_text(r("1/10000"), 3) == "0");
    CHECK(rounded_text(r("-1/10000"), 3) == "0");
    CHECK(rounded_text(r("999999/1000"), 2) == "1000");
    CHECK(rounded_text(Rational{100}, 3) == "100");
}

TEST_CASE("floor and ceiling go down and up, on both sides of zero") {
    CHECK(floor_of(r("7/2")) == 3);
    CHECK(ceil_of(r("7/2")) == 4);
    CHECK(floor_of(r("-7/2")) == -4);
    CHECK(ceil_of(r("-7/2")) == -3);
    CHECK(floor_of(Rational{5}) == 5);
    CHECK(ceil_of(Rational{5}) == 5);
}

TEST_CASE("scans of a duration") {
    const Rational period = r("1/100");
    CHECK(scans_up(0, period) == 0);
    CHECK(scans_up(r("1/2"), period) == 50);
    CHECK(scans_up(r("485/1000"), period) == 49);
    CHECK(scans_down(r("485/1000"), period) == 48);
    CHECK(scans_up(r("1/1000"), period) == 1);
    CHECK(scans_down(r("1/1000"), period) == 0);
    // 0.1 s is a whole number of scans of 0.1 s, which no binary fraction would say
    CHECK(scans_up(r("3/10"), r("1/10")) == 3);
    CHECK(scans_down(r("3/10"), r("1/10")) == 3);
}

TEST_CASE("scans of absurd durations stay far from the end of long") {
    const long most = scans_up(parse_decimal("1e99").value(), parse_decimal("1e-99").value());
    CHECK(most > 1000000000L);
    CHECK(most <= std::numeric_limits<long>::max() / 8);
    CHECK(scans_down(parse_decimal("1e99").value(), 1) == most);
}
