// Shorts that a switch makes, and circuits that a change-over contact joins.
#include <catch2/catch.hpp>

#include "support.hpp"

using namespace lanyard::circuit;
using namespace lanyard::test;

namespace {

using Texts = std::vector<std::string>;

Car shorting(const std::string& sw, const std::string& way) {
    return {"'battery': 'battery', 'F1': 'fuse', 'lamp': 'load', 'D1': 'diode', 'sw': " + sw,
            "'W1': 'battery - bus', 'W2': 'bus - F1 - tap', 'W3': 'tap - lamp - ground', 'W4': '" + way + "'"};
}

const std::string plain = "{ 'is': 'switch', 'switch': 'maintained' }";
const std::string over = "{ 'is': 'switch', 'switch': 'maintained', 'contact': 'change-over' }";

}  // namespace

TEST_CASE("a switch that shorts a source") {
    const auto said = [](const Car& car) { return told(car, "switch-shorts"); };
    CHECK(said(shorting(plain, "bus - sw - ground")) ==
          Texts{"`sw` on shorts `battery` with no load and no fuse between plus and minus"});
    CHECK(said(shorting(plain, "tap - D1 - sw - ground")) ==
          Texts{"`sw` on shorts `battery` with no load between plus and minus: a fuse blows"});
    CHECK(said(shorting("{ 'is': 'switch', 'switch': 'maintained', 'contact': 'break' }", "bus - sw - ground")) ==
          Texts{"`sw` off shorts `battery` with no load and no fuse between plus and minus"});
    CHECK(
        said(shorting(plain, "bus - ground")) ==
        Texts{
            "wires alone, whatever the switches do, short `battery` with no load and no fuse between plus and minus"});
    // Against the diode, behind the lamp, and where it takes a relay as well.
    CHECK(said(shorting(plain, "ground - D1 - sw - tap")).empty());
    CHECK(said(shorting(plain, "lamp.out - sw - ground")).empty());
    CHECK(said({"'battery': 'battery', 'K1': 'relay', 'sw': " + plain,
                "'W1': 'battery - sw - K1.make - ground', 'W2': 'battery - K1.coil - ground'"})
              .empty());
}

TEST_CASE("a change-over contact joins what lies on either side of it") {
    const auto car = [](const std::string& wires) {
        return Car{"'battery': 'battery', 'F1': 'fuse', 'F2': 'fuse', 'main': " + plain + ", 'sel': " + over +
                       ", 'pump': 'load', 'fan': 'load'",
                   "'W1': 'battery - F1 - a', 'W2': 'battery - F2 - main - b', " + wires};
    };
    const auto said = [](const Car& c) { return told(c, "changeover-joins"); };
    CHECK(said(car("'W3': 'a - sel.make - pump - ground', 'W4': 'b - sel.break - fan - ground'")) ==
          Texts{"`W3.1` and `W4.1` are joined at the end that both halves of the change-over contact `sel` share, and "
                "each has plus by itself"});
    // One feed for both, two feeds for one outlet, a wire that leads on.
    CHECK(said(car("'W3': 'a - sel.make - pump - ground', 'W4': 'a - sel.break - fan - ground'")).empty());
    CHECK(said(car("'W3': 'a - sel.make.out', 'W4': 'b - sel.break.out', 'W5': 'sel.in - pump - ground', 'W6': 'b - "
                   "fan - ground'"))
              .empty());
    CHECK(said(car("'W3': 'a - sel.make - pump - ground', 'W4': 'sel.in - fan - ground'")).empty());
}
