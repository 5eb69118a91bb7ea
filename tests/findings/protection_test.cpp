// What stops the engine, and what is left when a wire or a fuse goes.
#include <catch2/catch.hpp>

#include "support.hpp"

using namespace lanyard::circuit;
using namespace lanyard::test;

namespace {

using Texts = std::vector<std::string>;

// A button on the wheel, its line, and an engine whose injectors the controller fires.
Car kill(const std::string& button, const std::string& input, const std::string& inj, const std::string& engine = "") {
    return {"'battery': 'battery', 'F1': 'fuse', 'kill': { 'is': 'switch', 'switch': 'momentary'" + button + " }",
            "'W1': 'battery - F1 - controller.plus', 'W2': '" + input + " - kill - ground'", "",
            "'inputs': { 'key': 'maintained', '" + input +
                "': { 'reads': 'ground' } }, 'logic': { 'killed': 'SR(NOT key OR " + input +
                ", FALSE)' }, 'outputs': { 'inj': '" + inj + "', 'fan': 'key' }," + engine};
}
const std::string fires = "'engine': { 'fires_with': ['inj'] },";

Car ignition(const std::string& parts, const std::string& wires, const std::string& outputs = "'fan': 'key'") {
    return {
        "'battery': 'battery', 'F1': 'fuse', 'F2': 'fuse', 'kill': { 'is': 'switch', 'switch': 'momentary' }, " + parts,
        wires, "",
        "'inputs': { 'key': 'maintained' }, 'outputs': {" + outputs + "}, 'engine': { 'fires_with': ['coil'] },"};
}

}  // namespace

// 46 USC 4312 and common practice: a cut-off switch on a normally closed loop stops the engine when its wire breaks.
TEST_CASE("a kill button that has to close, and the loop that has to open") {
    const Texts defect{
        "`kill` cuts the power of `inj` by closing a contact: with a wire of its line broken it does nothing"};
    CHECK(told(kill("", "kill_in", "key AND NOT kill_in"), "kill-needs-wire") == defect);
    CHECK(told(kill("", "kill_in", "key AND NOT kill_in", fires), "kill-needs-wire") == defect);
    CHECK(told(kill(", 'contact': 'break'", "loop_in", "key AND loop_in"), "kill-needs-wire").empty());
    CHECK(told(kill(", 'contact': 'break'", "loop_in", "key AND loop_in", fires), "kill-needs-wire").empty());
}

TEST_CASE("a latch and a delay behind the button do not hide it") {
    CHECK(told(kill("", "kill_in", "key AND NOT killed", fires), "kill-needs-wire").size() == 1);
    CHECK(told(kill("", "kill_in", "key AND NOT TON(kill_in, 50 ms)", fires), "kill-needs-wire").size() == 1);
}

TEST_CASE("what stops nothing by itself is no kill switch") {
    CHECK(told(kill("", "cut_in", "key AND NOT (cut_in AND fan)", fires), "kill-needs-wire").empty());
    CHECK(told(kill("", "start_in", "key AND start_in", fires), "kill-needs-wire").empty());
    CHECK(told(kill("", "kill_in", "key AND kill_in OR key AND NOT kill_in", fires), "kill-needs-wire").empty());
}

TEST_CASE("a kill relay that has to pull in") {
    // The relay's break contact feeds the coil pack: closing the button opens it. Turned round, the button releases it.
    CHECK(told(ignition("'K1': 'relay', 'coil': 'load'",
                        "'W1': 'battery - F1 - K1.break - coil - ground', 'W2': 'F1.out - kill - K1.coil - ground'"),
               "kill-needs-wire")
              .size() == 1);
    CHECK(told({"'battery': 'battery', 'F1': 'fuse', 'kill': { 'is': 'switch', 'switch': 'momentary', 'contact': "
                "'break' }, 'K1': 'relay', 'coil': 'load'",
                "'W1': 'battery - F1 - K1.make - coil - ground', 'W2': 'F1.out - kill - K1.coil - ground'", "",
                "'inputs': { 'key': 'maintained' }, 'engine': { 'fires_with': ['coil'] },"},
               "kill-needs-wire")
              .empty());
}

TEST_CASE("a magneto is stopped by grounding its lead") {
    CHECK(
        told(ignition("'coil': 'magneto', 'lamp': 'load'",
                      "'W1': 'coil - kill - ground', 'W2': 'battery - F1 - lamp - ground'"),
             "kill-needs-wire") ==
        Texts{"`kill` cuts the power of `coil` by closing a contact: with a wire of its line broken it does nothing"});
}

TEST_CASE("a second pole that opens the feed makes it safe") {
    const std::string parts =
        "'battery': 'battery', 'F1': 'fuse', 'kill': { 'is': 'switch', 'switch': 'maintained', "
        "'contact': 'change-over', 'poles': 2 }, 'coil': 'load'";
    const std::string sections =
        "'inputs': { 'key': 'maintained', 'kill_in': { 'reads': 'ground' } }, 'outputs': { "
        "'inj': 'key AND NOT kill_in' }, 'engine': { 'fires_with': ['inj', 'coil'] },";
    const std::string button = "'W1': 'kill_in - kill.1.make - ground', ";
    CHECK(told({parts, button + "'W2': 'battery - F1 - coil - ground'", "", sections}, "kill-needs-wire").size() == 1);
    CHECK(told({parts, button + "'W2': 'battery - F1 - kill.2.break - coil - ground'", "", sections}, "kill-needs-wire")
              .empty());
}

// No source: common practice. The controller cuts the coil pack by pulling in a relay; its fuse goes.
TEST_CASE("a fuse that ends the protection and leaves the engine running") {
    const std::string parts = "'K1': { 'is': 'relay', 'suppressed': true }, 'coil': 'load', 'pump': 'load'";
    const std::string cut = "'cut': { 'on': 'NOT key', 'drives': 'low side' }";
    const std::string hold = "'hold': { 'on': 'key', 'drives': 'low side' }";
    const std::string feeds = "'W1': 'battery - F1 - controller.plus', 'W2': 'F1.out - pump - ground', ";
    CHECK(told(ignition(parts,
                        feeds + "'W3': 'battery - F2 - K1.break - coil - ground', 'W4': 'F2.out - K1.coil - cut'", cut),
               "fuse-ends-protection") == Texts{"with `F1` blown the controller is dead, but everything that the "
                                                "engine fires with can still have power; `pump` loses power with it"});
    CHECK(
        told(ignition(parts, feeds + "'W3': 'battery - F2 - K1.make - coil - ground', 'W4': 'F2.out - K1.coil - hold'",
                      hold),
             "fuse-ends-protection")
            .empty());
    // One fuse for both: what is protected goes as well.
    CHECK(
        told(ignition(parts, feeds + "'W3': 'F1.out - K1.break - coil - ground', 'W4': 'F1.out - K1.coil - cut'", cut),
             "fuse-ends-protection")
            .empty());
    // A controller that never could take the power is no protection.
    CHECK(told(ignition(parts, feeds + "'W3': 'battery - F2 - coil - ground', 'W4': 'F2.out - K1.coil - cut'", cut),
               "fuse-ends-protection")
              .empty());
}

TEST_CASE("nothing is said of a sane car") {
    const Car car{
        "'battery': 'battery', 'F0': { 'is': 'fuse', 'rating': '60 A' }, 'F1': { 'is': 'fuse', 'rating': '10 A' }, "
        "'F2': { "
        "'is': 'fuse', 'rating': '20 A' }, 'F3': { 'is': 'fuse', 'rating': '15 A' }, 'alt': 'alternator', 'master': { "
        "'is': 'switch', 'switch': 'maintained' }, 'kill': { 'is': 'switch', 'switch': 'momentary', 'contact': 'break' "
        "}, "
        "'K1': { 'is': 'relay', 'draws': '0.15 A', 'suppressed': true }, 'K2': { 'is': 'relay', 'draws': '0.15 A', "
        "'suppressed': true }, 'pump': { 'is': 'load', 'draws': '8 A' }, 'coils': { 'is': 'load', 'draws': '6 A' }, "
        "'fan': { 'is': 'load', 'draws': '12 A' }, 'G1': 'ground'",
        "'W1': { 'path': 'battery - F0 - master - bus', 'size': '10 AWG' }, 'W2': { 'path': 'alt - bus', 'size': '8 "
        "AWG' "
        "}, 'W3': { 'path': 'bus - F1 - controller.plus', 'size': '1 mm2' }, 'W4': { 'path': 'bus - F2 - K1.make - "
        "ign', "
        "'size': '1.5 mm2' }, 'W5': 'ign - pump - G1', 'W6': 'ign - coils - G1', 'W7': { 'path': 'bus - F3 - K2.make - "
        "fan - G1', 'size': '1.5 mm2' }, 'W8': 'F1.out - kill - K1.coil - run_out', 'W9': 'F1.out - K2.coil - fan_out'",
        "",
        "'inputs': { 'key': 'maintained' }, 'outputs': { 'run_out': { 'on': 'key', 'drives': 'low side', 'gives': '1 "
        "A' }, "
        "'fan_out': { 'on': 'key', 'drives': 'low side', 'gives': '1 A' } }, 'engine': { 'fires_with': ['coils', "
        "'pump'] "
        "}, 'claims': { 'c': { 'always': 'NOT coils OR K1' }, 'f': { 'always': 'NOT fan OR K2' }, 'p': { 'always': "
        "'NOT "
        "pump OR K1' } },"};
    CHECK(told(car) == Texts{});
}
