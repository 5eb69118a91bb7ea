// Each rule of circuit/flow.hpp at a circuit made by hand. What is expected follows from physics: current flows in
// closed loops, from plus to ground, through a diode one way.
#include <catch2/catch.hpp>

#include "circuits.hpp"

using namespace lanyard::sim;
using namespace lanyard::test;

namespace {

Model parts(const std::string& parts, const std::string& wires) {
    return model_of("'circuit': {'parts': {'battery': 'battery', " + parts + "}, 'wires': {" + wires +
                    "}}, 'claims': {'c': {'always': 'TRUE'}}");
}

const char* text_of(const Fed& f) {
    if (f.must) return f.may ? "works" : "nonsense";
    return f.may ? "may work" : "is off";
}

// What the load does.
std::string load(const Model& m, const std::string& name, const std::vector<std::string>& on = {},
                 const std::vector<std::string>& faults = {}) {
    return text_of(positions(m, on, faults).flow(m).works(branch_named(m, name)));
}
std::string plus_at(const Model& m, const std::string& name, const std::vector<std::string>& on = {},
                    const std::vector<std::string>& faults = {}) {
    return text_of(positions(m, on, faults).flow(m).has_plus(node_named(m, name)));
}
std::string ground_at(const Model& m, const std::string& name, const std::vector<std::string>& on = {},
                      const std::vector<std::string>& faults = {}) {
    return text_of(positions(m, on, faults).flow(m).is_grounded(node_named(m, name)));
}

const std::string hand = "{'is': 'switch', 'switch': 'maintained'}";

}  // namespace

TEST_CASE("a lamp behind a switch, and what breaks the loop") {
    const Model m = parts("'sa': " + hand +
                              ", 'F1': 'fuse', 'X1': {'is': 'connector', 'terminals': 1}, 'lamp': 'load', "
                              "'G1': 'ground'",
                          "'w1': 'battery - F1 - sa - X1.1 - lamp - G1'");
    CHECK(load(m, "lamp") == "is off");
    CHECK(load(m, "lamp", {"sa"}) == "works");
    for (const char* fault :
         {"w1.1.open", "w1.3.open", "w1.5.open", "F1.open", "X1.1.open", "G1.lost", "lamp.open", "sa.stuck_off"})
        CHECK(load(m, "lamp", {"sa"}, {fault}) == "is off");
    CHECK(load(m, "lamp", {}, {"sa.stuck_on"}) == "works");
}

TEST_CASE("two lamps in series: each may glow, a broken one puts out both") {
    const Model m = parts("'lamp_a': 'load', 'lamp_b': 'load'", "'w1': 'battery - lamp_a - lamp_b - ground'");
    CHECK(load(m, "lamp_a") == "may work");
    CHECK(load(m, "lamp_b") == "may work");
    CHECK(load(m, "lamp_b", {}, {"lamp_a.open"}) == "is off");
    CHECK(load(m, "lamp_b", {}, {"w1.2.to_battery"}) == "works");
    CHECK(load(m, "lamp_a", {}, {"w1.2.to_battery"}) == "is off");
    const Model shut = parts("'lamp_a': {'is': 'load', 'lets_through': false}, 'lamp_b': 'load'",
                             "'w1': 'battery - lamp_a - lamp_b - ground'");
    CHECK(load(shut, "lamp_a") == "may work");  // its own current comes back through b
    CHECK(load(shut, "lamp_b") == "is off");
}

// Formula SAE EV.7.1.4: nothing may feed power back into the line.
TEST_CASE("a lamp between two taps is a sneak path, a diode closes it") {
    const std::string p = "'sa': " + hand + ", 'sb': " + hand + ", 'lamp': 'load', 'D1': 'diode', 'K1': 'relay'";
    const std::string line = "'w1': 'battery - sa - line - K1.coil - ground', 'w2': 'battery - sb - dash'";
    const Model without = parts(p, line + ", 'w3': 'line - lamp - dash'");
    CHECK(load(without, "K1.coil", {"sb"}) == "may work");
    const Model with = parts(p, line + ", 'w3': 'line - D1 - lamp - dash'");
    CHECK(load(with, "K1.coil", {"sb"}) == "is off");
    CHECK(load(with, "K1.coil", {"sa"}) == "works");
    CHECK(load(with, "K1.coil", {"sb"}, {"D1.shorted"}) == "may work");
}

TEST_CASE("two loads on one lost ground are in series through it") {
    const Model m =
        parts("'sa': " + hand + ", 'sb': " + hand + ", 'lamp_a': 'load', 'lamp_b': 'load', 'G1': 'ground'",
              "'w1': 'battery - sa - lamp_a - bolt', 'w2': 'battery - sb - lamp_b - bolt', 'w3': 'bolt - G1'");
    CHECK(load(m, "lamp_a", {"sa"}) == "works");
    CHECK(load(m, "lamp_a", {"sa"}, {"G1.lost"}) == "is off");  // b stands at nothing, too
    CHECK(ground_at(m, "bolt", {"sa"}, {"G1.lost"}) == "is off");
    CHECK(plus_at(m, "bolt", {"sa"}, {"G1.lost"}) == "may work");
    // The other load stands on ground at its far end: current comes through both.
    const Model back = parts("'sa': " + hand + ", 'lamp_a': 'load', 'lamp_b': 'load', 'G1': 'ground'",
                             "'w1': 'battery - sa - lamp_a - bolt', 'w2': 'ground - lamp_b - bolt', 'w3': 'bolt - G1'");
    CHECK(load(back, "lamp_b", {"sa"}) == "is off");
    CHECK(load(back, "lamp_b", {"sa"}, {"G1.lost"}) == "may work");
}

TEST_CASE("a fuse clears the short behind it, and only what lies behind it") {
    const Model m =
        parts("'F1': 'fuse', 'F2': 'fuse', 'lamp_a': 'load', 'lamp_b': 'load', 'bad': " + hand,
              "'w1': 'battery - bus', 'w2': 'bus - F1 - na', 'w5': 'na - lamp_a - ground', 'w3': 'bus - F2 - nb', "
              "'w6': 'nb - lamp_b - ground', 'w4': 'na - bad - ground'");
    CHECK(load(m, "lamp_a") == "works");
    CHECK(load(m, "lamp_a", {"bad"}) == "is off");
    CHECK(load(m, "lamp_b", {"bad"}) == "works");
    CHECK(plus_at(m, "na", {"bad"}) == "is off");
    CHECK(plus_at(m, "bus", {"bad"}) == "works");
    CHECK(ground_at(m, "na", {"bad"}) == "works");
}

TEST_CASE("a short that no fuse clears leaves everything on it open") {
    const Model m = parts("'lamp_a': 'load', 'bad': " + hand,
                          "'w1': 'battery - bus', 'w2': 'bus - lamp_a - ground', 'w3': 'bus - bad - ground'");
    CHECK(load(m, "lamp_a") == "works");
    CHECK(load(m, "lamp_a", {"bad"}) == "may work");
    CHECK(plus_at(m, "bus", {"bad"}) == "may work");
    CHECK(ground_at(m, "bus", {"bad"}) == "may work");
}

TEST_CASE("of two fuses in a row either may blow, whatever their ratings") {
    const Model m = parts(
        "'F1': 'fuse', 'F2': 'fuse', 'lamp_a': 'load', 'bad': " + hand,
        "'w1': 'battery - F1 - bus', 'w2': 'bus - F2 - n', 'w3': 'n - bad - ground', 'w4': 'bus - lamp_a - ground'");
    CHECK(load(m, "lamp_a") == "works");
    CHECK(load(m, "lamp_a", {"bad"}) == "may work");
    CHECK(plus_at(m, "n", {"bad"}) == "is off");
    CHECK(plus_at(m, "bus", {"bad"}) == "may work");
    CHECK(load(m, "lamp_a", {"bad"}, {"F2.open"}) == "works");
}

TEST_CASE("a change-over contact feeds one of two ways") {
    const Model m = parts(
        "'sa': {'is': 'switch', 'switch': 'maintained', 'contact': 'change-over'}, 'lamp_a': 'load', 'lamp_b': 'load'",
        "'w1': 'battery - sa.in', 'w2': 'sa.make.out - lamp_a - ground', 'w3': 'sa.break.out - lamp_b - ground'");
    CHECK(load(m, "lamp_a", {"sa"}) == "works");
    CHECK(load(m, "lamp_b", {"sa"}) == "is off");
    CHECK(load(m, "lamp_a") == "is off");
    CHECK(load(m, "lamp_b") == "works");
    CHECK(load(m, "lamp_a", {}, {"sa.stuck_on"}) == "works");
    CHECK(load(m, "lamp_b", {}, {"sa.stuck_on"}) == "is off");
}

TEST_CASE("a diode lets plus forwards and ground backwards") {
    const Model forwards = parts("'D1': 'diode', 'lamp_a': 'load'", "'w1': 'battery - D1 - lamp_a - ground'");
    CHECK(load(forwards, "lamp_a") == "works");
    CHECK(load(forwards, "lamp_a", {}, {"D1.open"}) == "is off");
    const Model backwards = parts("'D1': 'diode', 'lamp_a': 'load'", "'w1': 'ground - lamp_a - D1 - battery'");
    CHECK(load(backwards, "lamp_a") == "is off");
    CHECK(load(backwards, "lamp_a", {}, {"D1.shorted"}) == "works");
    const Model to_ground = parts("'D1': 'diode', 'lamp_a': 'load'", "'w1': 'battery - lamp_a - D1 - ground'");
    CHECK(load(to_ground, "lamp_a") == "works");
    // Two sources behind diodes: one may be missing, and neither feeds the other.
    const Model two = parts(
        "'sa': " + hand + ", 'sb': " + hand + ", 'D1': 'diode', 'D2': 'diode', 'lamp_a': 'load'",
        "'w1': 'battery - sa - p - D1 - both', 'w2': 'battery - sb - q - D2 - both', 'w3': 'both - lamp_a - ground'");
    CHECK(load(two, "lamp_a", {"sa"}) == "works");
    CHECK(load(two, "lamp_a", {"sb"}) == "works");
    CHECK(plus_at(two, "q", {"sa"}) == "is off");
    CHECK(plus_at(two, "q", {"sa"}, {"D2.shorted"}) == "works");
}

TEST_CASE("a polar load works one way round") {
    const Model right = parts("'motor': {'is': 'load', 'polar': true}", "'w1': 'battery - motor - ground'");
    CHECK(load(right, "motor") == "works");
    const Model wrong = parts("'motor': {'is': 'load', 'polar': true}", "'w1': 'ground - motor - battery'");
    CHECK(load(wrong, "motor") == "is off");
    // A motor between two change-over switches turns either way, and stands with both alike (an H bridge).
    const std::string half = "{'is': 'switch', 'switch': 'maintained', 'contact': 'change-over'}";
    const std::string wires =
        "'w1': 'battery - sa.make.out', 'w2': 'ground - sa.break.out', 'w3': 'battery - sb.make.out', "
        "'w4': 'ground - sb.break.out', 'w5': 'sa.in - motor - sb.in'";
    const Model bridge = parts("'sa': " + half + ", 'sb': " + half + ", 'motor': 'load'", wires);
    CHECK(load(bridge, "motor") == "is off");
    CHECK(load(bridge, "motor", {"sa"}) == "works");
    CHECK(load(bridge, "motor", {"sb"}) == "works");
    CHECK(load(bridge, "motor", {"sa", "sb"}) == "is off");
    const Model polar = parts("'sa': " + half + ", 'sb': " + half + ", 'motor': {'is': 'load', 'polar': true}", wires);
    CHECK(load(polar, "motor", {"sa"}) == "works");
    CHECK(load(polar, "motor", {"sb"}) == "is off");
}

TEST_CASE("a battery gives plus only with its minus on the chassis") {
    const Model m = parts("'sa': " + hand + ", 'lamp_a': 'load'",
                          "'w1': 'battery.minus - sa - ground', 'w2': 'battery - lamp_a - ground'");
    CHECK(load(m, "lamp_a") == "is off");
    CHECK(load(m, "lamp_a", {"sa"}) == "works");
}

TEST_CASE("two sources: either of them feeds") {
    const Model m = parts(
        "'sa': " + hand + ", 'turns': " + hand + ", 'alt': {'is': 'alternator', 'live': 'turns'}, 'lamp_a': 'load'",
        "'w1': 'battery - sa - bus', 'w2': 'alt - bus', 'w3': 'bus - lamp_a - ground'");
    CHECK(load(m, "lamp_a") == "is off");
    CHECK(load(m, "lamp_a", {"sa"}) == "works");
    CHECK(load(m, "lamp_a", {"turns"}) == "works");
    CHECK(load(m, "lamp_a", {"turns"}, {"alt.dead"}) == "is off");
}

TEST_CASE("plus through a load holds no node, and ground stops it") {
    const Model m = parts("'sa': " + hand + ", 'lamp': 'load', 'lamp_a': 'load'",
                          "'w1': 'battery - lamp - n', 'w2': 'n - lamp_a - ground', 'w3': 'n - sa - ground'");
    CHECK(plus_at(m, "n") == "may work");
    CHECK(load(m, "lamp_a") == "may work");
    CHECK(load(m, "lamp_a", {"sa"}) == "is off");
    CHECK(load(m, "lamp", {"sa"}) == "works");
    CHECK(plus_at(m, "n", {"sa"}) == "is off");
}
