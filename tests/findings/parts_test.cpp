// Loads that cannot work, coils, parts that nobody asks about.
#include <catch2/catch.hpp>

#include "support.hpp"

using namespace lanyard::circuit;
using namespace lanyard::test;

namespace {

using Texts = std::vector<std::string>;

Car coil(const std::string& relay, const std::string& wires, const std::string& drives = "low side") {
    return {
        "'battery': 'battery', 'F1': 'fuse', 'D1': 'diode', 'K1': { 'is': 'relay'" + relay + " }, 'pump': 'load'",
        "'W0': 'battery - F1 - bus', 'W9': 'bus - controller.plus', 'W8': 'bus - K1.make - pump - ground', " + wires,
        "", "'inputs': { 'key': 'maintained' }, 'outputs': { 'pull': { 'on': 'key', 'drives': '" + drives + "' } },"};
}

// Two circuits behind a common switch; claims about the one.
Car two_circuits(const std::string& claims) {
    return {
        "'battery': 'battery', 'F0': 'fuse', 'master': { 'is': 'switch', 'switch': 'maintained' }, 'F1': 'fuse', "
        "'F2': 'fuse', 'K1': { 'is': 'relay', 'suppressed': true }, 'K2': { 'is': 'relay', 'suppressed': true }, "
        "'pump': 'load', 'fan': 'load'",
        "'W1': 'battery - F0 - master - bus', 'W2': 'bus - controller.plus', 'W3': 'bus - F1 - K1.make - pump - "
        "ground', 'W4': 'bus - F2 - K2.make - fan - ground', 'W5': 'bus - K1.coil - pull1', 'W6': 'bus - K2.coil - "
        "pull2'",
        "",
        "'inputs': { 'key': 'maintained', 'hand': 'maintained' }, 'outputs': { 'pull1': { 'on': 'key', 'drives': "
        "'low side' }, 'pull2': { 'on': 'hand', 'drives': 'low side' } }, 'claims': {" +
            claims + "},"};
}

}  // namespace

TEST_CASE("a load that can have no plus, and one that can have no ground") {
    const std::string parts =
        "'battery': 'battery', 'F1': 'fuse', 'sw': { 'is': 'switch', 'switch': 'maintained' }, "
        "'pump': 'load', 'lamp': 'load', 'X1': { 'is': 'connector', 'terminals': 2 }";
    const std::string lamp = ", 'W9': 'F1.out - lamp - ground'";
    CHECK(told({parts, "'W1': 'battery - F1', 'W2': 'X1.1 - sw - pump - ground'" + lamp}, "no-plus") ==
          Texts{"the load `pump` can never have plus, whatever the switches do"});
    CHECK(told({parts, "'W1': 'battery - F1', 'W2': 'F1 - sw - pump - X1.1'" + lamp}, "no-ground") ==
          Texts{"the load `pump` can never have ground, whatever the switches do"});
    const Car good{parts, "'W1': 'battery - F1', 'W2': 'F1 - sw - pump - X1.1 - ground'" + lamp};
    CHECK(told(good, "no-plus").empty());
    CHECK(told(good, "no-ground").empty());
}

TEST_CASE("a load that works one way round only") {
    const auto car = [](const std::string& path) {
        return Car{"'battery': 'battery', 'F1': 'fuse', 'motor': { 'is': 'load', 'polar': true }",
                   "'W1': 'battery - F1', 'W2': '" + path + "'"};
    };
    CHECK(told(car("ground - motor - F1.out"), "no-ground") ==
          Texts{"the load `motor` can have plus only where it needs ground"});
    CHECK(told(car("F1.out - motor - ground"), "no-ground").empty());
}

TEST_CASE("a lamp behind a lamp can have plus through it") {
    CHECK(
        told({"'battery': 'battery', 'F1': 'fuse', 'a': 'load', 'b': 'load'", "'W1': 'battery - F1 - a - b - ground'"},
             "no-plus")
            .empty());
    CHECK(told({"'battery': 'battery', 'F1': 'fuse', 'a': { 'is': 'load', 'lets_through': false }, 'b': 'load'",
                "'W1': 'battery - F1 - a - b - ground'"},
               "no-plus") == Texts{"the load `b` can never have plus, whatever the switches do"});
}

TEST_CASE("a coil with nothing across it on an output") {  // common practice, no source
    const Texts bare{"an output drives the coil of `K1`, and nothing is connected across it"};
    const std::string low = "'W1': 'bus - K1.coil - pull'", high = "'W1': 'pull - K1.coil - ground'";
    CHECK(told(coil("", low + ", 'W2': 'bus - D1 - ground'"), "coil-unsuppressed") == bare);
    CHECK(told(coil("", high, "high side"), "coil-unsuppressed") == bare);
    CHECK(told(coil(", 'suppressed': true", low), "coil-unsuppressed").empty());
    CHECK(told(coil("", low + ", 'W2': 'K1.85 - D1 - K1.86'"), "coil-unsuppressed").empty());
    CHECK(told(coil(", 'polar': true", low + ", 'W2': 'K1.86 - D1 - K1.85'"), "coil-unsuppressed") == bare);
    CHECK(told(coil("", high, "half bridge"), "coil-unsuppressed").empty());
    // A hand switch takes no harm.
    CHECK(told({"'battery': 'battery', 'F1': 'fuse', 'sw': { 'is': 'switch', 'switch': 'maintained' }, 'K1': 'relay'",
                "'W1': 'battery - F1 - sw - K1.coil - ground'"},
               "coil-unsuppressed")
              .empty());
}

TEST_CASE("parts that no claim depends on") {
    CHECK(told(two_circuits("'a': { 'always': 'NOT pump OR K1' }"), "not-asked") ==
          Texts{"no claim depends on `pull2`, `F2`, `K2` and `fan`"});
    CHECK(told(two_circuits("'a': { 'always': 'NOT pump OR K1' }, 'b': { 'always': 'NOT fan OR K2' }"), "not-asked")
              .empty());
    CHECK(told(two_circuits("'a': { 'always': 'NOT K2' }"), "not-asked") ==
          Texts{"no claim depends on `pull1`, `F1`, `F2`, `K1`, `pump` and `fan`"});
    CHECK(told(two_circuits(""), "not-asked").empty());  // nothing is asked at all
}

TEST_CASE("what leads back to the battery's minus counts") {
    CHECK(told({"'battery': 'battery', 'master': { 'is': 'switch', 'switch': 'maintained' }, 'pump': 'load'",
                "'W1': 'battery.minus - master - ground', 'W2': 'battery - pump - ground'", "",
                "'claims': { 'c': { 'always': 'NOT pump' } },"},
               "not-asked")
              .empty());
}

TEST_CASE("a sneak path makes a part count") {
    // A lamp between two taps brings plus to the other one; one that lets nothing through does not. (Formula SAE
    // EV.7.1.4: no failure may feed power back.)
    const auto car = [](const std::string& lamp) {
        return Car{
            "'battery': 'battery', 'F1': 'fuse', 'a': { 'is': 'switch', 'switch': 'maintained' }, 'b': { 'is': "
            "'switch', 'switch': 'maintained' }, 'lamp': { 'is': 'load'" +
                lamp + " }, 'pump': 'load', 'horn': 'load'",
            "'W1': 'battery - F1', 'W2': 'F1.out - a - tap1 - pump - ground', 'W3': 'F1.out - b - tap2 - horn - "
            "ground', 'W4': 'tap1 - lamp - tap2'",
            "", "'claims': { 'c': { 'always': 'NOT pump' } },"};
    };
    CHECK(told(car(""), "not-asked") == Texts{"no claim depends on `horn`"});
    CHECK(told(car(", 'lets_through': false"), "not-asked") == Texts{"no claim depends on `b`, `lamp` and `horn`"});
}

TEST_CASE("without a circuit nothing is found, and the table is whole") {
    CHECK(findings_of(Model{}).empty());
    const auto& table = finding_table();
    REQUIRE(table.size() == ordinal(FindingKind::too_large) + 1);
    for (std::size_t i = 0; i < table.size(); ++i) CHECK(ordinal(table[i].kind) == i);
}

TEST_CASE("what decides whether a fault does harm has a say where the fault may occur") {
    const auto car = [](const std::string& under) {
        return Car{
            "'battery': 'battery', 'F1': 'fuse', 'sw': { 'is': 'switch', 'switch': 'maintained' }, 'pump': "
            "'load', 'fan': 'load'",
            "'W1': 'battery - F1 - bus', 'W2': 'bus - pump - ground', 'W3': 'bus - sw - mid', 'W4': 'mid - fan - "
            "ground'",
            "", "'claims': { 'c': { 'always': 'pump', 'under': '" + under + "' } },"};
    };
    // With W4 on the chassis behind it, the closed switch blows the fuse.
    CHECK(told(car("any, one fault of W4.1.to_ground"), "not-asked") == Texts{"no claim depends on `fan`"});
    CHECK(told(car("any, one fault of F1"), "not-asked") == Texts{"no claim depends on `sw` and `fan`"});
}

TEST_CASE("findings stand in the order of the file") {
    const auto all =
        findings({"'battery': 'battery',\n'pump': 'load',\n'F1': { 'is': 'fuse', 'rating': '30 A' },\n"
                  "'lamp': { 'is': 'load', 'draws': '31 A' }",
                  "'W1': { 'path': 'battery - F1 - lamp - ground', 'size': '18 AWG' },\n'W2': "
                  "'lamp.out - pump - ground'"});
    REQUIRE(all.size() == 3);
    CHECK(all[0].kind == FindingKind::no_plus);
    CHECK(all[0].place.line == 4);
    CHECK(all[1].kind == FindingKind::fuse_above_wire);
    CHECK(all[2].kind == FindingKind::fuse_below_loads);
    CHECK(all[2].place.line == 5);
    CHECK(all[2].pointer == "/circuit/parts/F1");
}

TEST_CASE("what can short a bus has a say in all that hangs on it") {
    const auto car = [](const std::string& more) {
        return Car{
            "'battery': 'battery', 'sw': { 'is': 'switch', 'switch': 'maintained' }, 'lamp': 'load', 'fan': 'load'",
            "'W1': 'battery - bus', 'W2': '" + more + "', 'W3': 'bus - lamp - ground'", "",
            "'claims': { 'c': { 'always': 'lamp' } },"};
    };
    // Closed, the switch lays the bus on the chassis; behind a load it does not.
    CHECK(told(car("bus - sw - ground - fan - ground"), "not-asked") == Texts{"no claim depends on `fan`"});
    CHECK(told(car("bus - sw - fan - ground"), "not-asked") == Texts{"no claim depends on `sw` and `fan`"});
}
