// Fuses, wires and currents.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "circuit/ampacity.hpp"
#include "model/wire_gauge.hpp"
#include "support.hpp"

using namespace lanyard::circuit;
using namespace lanyard::test;

namespace {

using Texts = std::vector<std::string>;

Car fused(const std::string& rating, const std::string& size, const std::string& more = "") {
    return {"'battery': 'battery', 'F1': { 'is': 'fuse', 'rating': '" + rating + "' }, 'pump': 'load'",
            "'W1': { 'path': 'battery - F1 - pump - ground', 'size': '" + size + "' }", more};
}

Rational carried(const std::string& size, const std::string& more = "") {
    const Model m = model_of(fused("1 A", size, more));
    for (const auto& b : m.circuit.branches)
        if (b.name == "W1.2") return ampacity_of(m.circuit, b)->amps;
    FAIL("no wire");
    return 0;
}

Car output(const std::string& gives, const std::string& draws) {
    return {"'battery': 'battery', 'F1': { 'is': 'fuse', 'rating': '30 A' }, 'pump': { 'is': 'load', 'draws': '" +
                draws + "' }, 'lamp': { 'is': 'load', 'draws': '1.5 A' }, 'dash': 'load'",
            "'W1': 'battery - F1 - controller.plus', 'W2': 'drive - pump - ground', 'W3': 'drive - lamp - ground', "
            "'W4': 'drive - dash - ground'",
            "",
            "'inputs': { 'key': 'maintained' }, 'outputs': { 'drive': { 'on': 'key', 'drives': 'high side', "
            "'gives': '" +
                gives + "' } },"};
}

}  // namespace

TEST_CASE("cross-sections of the gauges are those of the formula of ASTM B258") {
    for (const auto& g : wire_gauges()) {
        const int n = g.gauge.find_first_not_of('0') == std::string::npos ? 1 - static_cast<int>(g.gauge.size())
                                                                          : std::stoi(g.gauge);
        const double d = 0.127 * std::pow(92.0, (36.0 - n) / 39.0);
        const double area = std::acos(-1.0) / 4 * d * d;
        CAPTURE(g.gauge);
        CHECK(g.area.get_d() == Approx(area).epsilon(0.0005));  // four digits
    }
}

TEST_CASE("what wires may carry: 33 CFR 183.425, table 5, 105 degC, and 0.85 of it in engine spaces") {
    const std::pair<const char*, int> table[] = {{"18 AWG", 20}, {"16 AWG", 25}, {"14 AWG", 35}, {"12 AWG", 45},
                                                 {"10 AWG", 60}, {"8 AWG", 80},  {"6 AWG", 120}, {"4 AWG", 160},
                                                 {"2 AWG", 210}, {"1 AWG", 245}, {"0 AWG", 285}};
    for (const auto& [size, amps] : table) {
        CAPTURE(size);
        CHECK(carried(size) == amps);
        CHECK(carried(size, ", 'engine_space': 'W1'") == Rational(amps) * Rational(17, 20));
    }
}

TEST_CASE("metric sizes count as the gauge below them") {
    // ASTM B258: 18 AWG 0.823, 16 AWG 1.309, 14 AWG 2.081, 12 AWG 3.309 mm2.
    CHECK(carried("0.5 mm2") == 20);  // thinner than the table: told in the help
    CHECK(carried("0.823 mm2") == 20);
    CHECK(carried("1 mm2") == 20);
    CHECK(carried("1.5 mm2") == 25);
    CHECK(carried("2.5 mm2") == 35);
    CHECK(carried("4 mm2") == 45);
}

TEST_CASE("a fuse larger than the wire behind it may carry") {
    CHECK(told(fused("30 A", "1.5 mm2"), "fuse-above-wire") ==
          Texts{"`F1` is rated 30 A, but the wire `W1.2` after it (1.5 mm2, taken as 16 AWG) may carry 25 A"});
    CHECK(told(fused("25 A", "1.5 mm2"), "fuse-above-wire").empty());
    CHECK(told(fused("25 A", "1.5 mm2", ", 'engine_space': ['W1']"), "fuse-above-wire") ==
          Texts{"`F1` is rated 25 A, but the wire `W1.2` after it (1.5 mm2, taken as 16 AWG, in the engine space) may "
                "carry 21.25 A"});
    // 33 CFR 183.455(c)(1): half as large again is permitted below 50 V: 37.5 A.
    CHECK(findings(fused("37.5 A", "16 AWG")).front().why.find("up to 37.5 A") != std::string::npos);
    CHECK(findings(fused("38 A", "16 AWG")).front().why.find("183.455") == std::string::npos);
}

TEST_CASE("a table of one's own takes the place of the usual one") {
    const std::string own = ", 'wire_table': { '1.5 mm2': '16 A', '2.5 mm2': '25 A' }";
    CHECK(told(fused("20 A", "2 mm2", own), "fuse-above-wire") ==
          Texts{"`F1` is rated 20 A, but the wire `W1.2` after it (2 mm2, taken as 1.5 mm2) may carry 16 A"});
    CHECK(told(fused("16 A", "2 mm2", own), "fuse-above-wire").empty());
    CHECK(told(fused("100 A", "1 mm2", own), "fuse-above-wire").empty());  // no row for one so thin
}

TEST_CASE("the next fuse protects what is behind it") {
    const std::string parts =
        "'battery': 'battery', 'F0': { 'is': 'fuse', 'rating': '60 A' }, 'F1': { 'is': 'fuse', 'rating': '15 A' }, "
        "'sw': { 'is': 'switch', 'switch': 'maintained' }, 'pump': 'load'";
    CHECK(told({parts,
                "'W1': { 'path': 'battery - F0 - sw - bus - F1', 'size': '10 AWG' }, 'W2': { 'path': 'F1 - pump "
                "- ground', 'size': '18 AWG' }"},
               "fuse-above-wire")
              .empty());
    CHECK(told({parts,
                "'W1': { 'path': 'battery - F0 - sw - bus', 'size': '10 AWG' }, 'W2': { 'path': 'bus - tap', 'size': "
                "'12 AWG' }, 'W3': { 'path': 'tap - F1 - pump - ground', 'size': '18 AWG' }"},
               "fuse-above-wire") == Texts{"`F0` is rated 60 A, but the wire `W2` after it (12 AWG) may carry 45 A"});
}

TEST_CASE("an output that is asked for more than it gives") {
    // 8 + 1.5 = 9.5 A: arithmetic.
    CHECK(told(output("9 A", "8 A"), "output-overload") ==
          Texts{"the output `drive` is rated 9 A, and 9.5 A can be drawn through it"});
    CHECK(findings(output("9 A", "8 A")).at(0).kind == FindingKind::output_overload);
    CHECK(findings(output("9 A", "8 A")).at(0).why ==
          "what it feeds and can be on together: `pump` 8 A and `lamp` 1.5 A; 1 more has no \"draws\"");
    CHECK(told(output("9.5 A", "8 A"), "output-overload").empty());
}

TEST_CASE("a low-side output counts what it grounds") {
    const auto car = [](const std::string& gives) {
        return Car{
            "'battery': 'battery', 'F1': { 'is': 'fuse', 'rating': '5 A' }, 'K1': { 'is': 'relay', 'draws': "
            "'0.15 A', 'suppressed': true }, 'K2': { 'is': 'relay', 'draws': '0.2 A', 'suppressed': true }",
            "'W1': 'battery - F1 - K1.coil - sink', 'W2': 'F1.out - K2.coil - sink'", "",
            "'inputs': { 'key': 'maintained' }, 'outputs': { 'sink': { 'on': 'key', 'drives': 'low side', "
            "'gives': '" +
                gives + "' } },"};
    };
    CHECK(told(car("0.3 A"), "output-overload") ==
          Texts{"the output `sink` is rated 0.3 A, and 0.35 A can be drawn through it"});
    CHECK(told(car("0.35 A"), "output-overload").empty());
}

TEST_CASE("a fuse smaller than what its loads draw together") {
    const auto car = [](const std::string& rating) {
        return Car{
            "'battery': 'battery', 'F1': { 'is': 'fuse', 'rating': '" + rating +
                "' }, 'sw': { 'is': 'switch', 'switch': 'maintained' }, 'fan': { 'is': 'load', 'draws': '12 A' }, "
                "'pump': { 'is': 'load', 'draws': '8 A' }",
            "'W1': 'battery - F1 - sw - fan - ground', 'W2': 'F1.out - pump - ground'"};
    };
    CHECK(told(car("15 A"), "fuse-below-loads") == Texts{"`F1` is rated 15 A, and 20 A can be drawn through it"});
    CHECK(told(car("20 A"), "fuse-below-loads").empty());
}

TEST_CASE("what a change-over switch separates is never on together") {
    const auto car = [](const std::string& contact, const std::string& wires) {
        return Car{
            "'battery': 'battery', 'F1': { 'is': 'fuse', 'rating': '13 A' }, 'sw': { 'is': 'switch', 'switch': "
            "'maintained'" +
                contact + " }, 'high': { 'is': 'load', 'draws': '12 A' }, 'low': { 'is': 'load', 'draws': '8 A' }",
            wires};
    };
    CHECK(told(car(", 'contact': 'change-over'",
                   "'W1': 'battery - F1 - sw.make - high - ground', 'W2': 'sw.break - low - ground'"),
               "fuse-below-loads")
              .empty());
    CHECK(told(car(", 'poles': 2", "'W1': 'battery - F1 - sw.1 - high - ground', 'W2': 'F1.out - sw.2 - low - ground'"),
               "fuse-below-loads") == Texts{"`F1` is rated 13 A, and 20 A can be drawn through it"});
}

TEST_CASE("two fuses side by side share, and neither is blamed") {
    const Car car{
        "'battery': 'battery', 'F1': { 'is': 'fuse', 'rating': '10 A' }, 'F2': { 'is': 'fuse', 'rating': "
        "'10 A' }, 'fan': { 'is': 'load', 'draws': '12 A' }",
        "'W1': 'battery - F1 - bus', 'W2': 'battery - F2 - bus', 'W3': 'bus - fan - ground'"};
    CHECK(told(car, "fuse-below-loads").empty());
}

TEST_CASE("wires without a fuse") {
    const std::string parts =
        "'battery': 'battery', 'F1': 'fuse', 'master': { 'is': 'switch', 'switch': 'maintained' }, 'pump': 'load', "
        "'horn': 'load'";
    CHECK(told({parts, "'W1': 'battery - master - bus', 'W2': 'bus - F1 - pump - ground', 'W3': 'bus - horn - ground'"},
               "no-fuse") ==
          Texts{"`battery` feeds `horn` without a fuse: `W1.1`, `W1.2` and `W3.1` have none before them"});
    CHECK(told({parts, "'W1': 'battery - F1 - master - bus', 'W2': 'bus - pump - ground', 'W3': 'bus - horn - ground'"},
               "no-fuse")
              .empty());
    // What leads on to fuses only is no finding.
    CHECK(told({parts,
                "'W1': 'battery - master - bus', 'W2': 'bus - F1 - pump - ground', 'W3': 'F1.out - horn - "
                "ground'"},
               "no-fuse")
              .empty());
}

TEST_CASE("two batteries joined for good") {
    const std::string parts = "'one': 'battery', 'two': 'battery', 'F1': 'fuse', 'F2': 'fuse', 'pump': 'load'";
    CHECK(told({parts, "'W1': 'one - two', 'W2': 'two - F1 - pump - ground', 'W3': 'one - F2 - pump.in'"},
               "batteries-joined") == Texts{"`one` and `two` are connected by wires alone"});
    CHECK(told({parts, "'W1': 'one - F1 - two', 'W2': 'two - F2 - pump - ground'"}, "batteries-joined").empty());
}
