// Ways of power, and what is open on them. Each text is worked out by hand from the wires of its little model; the
// wording is the project's own and has no source.
#include <catch2/catch.hpp>

#include "report/story.hpp"
#include "support.hpp"

using namespace lanyard::report;
using namespace lanyard::test;

namespace {

// The master switch breaks the battery's lead, the alternator sits behind it.
std::string backfed(const std::string& feed) {
    return R"json({ "lanyard": 1, "name": "alternator",
  "inputs": { "key": "maintained", "start": "momentary" },
  "outputs": { "inj": { "on": "key", "drives": "high side" }, "starter": { "on": "key AND start", "drives": "high side" } },
  "circuit": {
    "parts": { "battery": "battery", "alternator": "alternator", "injectors": "load", "starter_motor": "load",
      "master": { "is": "switch", "switch": "maintained", "poles": 2 } },
    "wires": { "W1": "battery - master.1 - bus", "W2": "alternator - bus", "W3": ")json" +
           feed + R"json(",
      "W4": "ign - controller.plus", "W5": "inj - injectors - ground", "W6": "starter - starter_motor - ground" } },
  "engine": { "fires_with": ["injectors"], "cranks_with": "starter_motor" },
  "claims": { "off": { "whenever": "NOT master", "then": "NOT injectors", "within": "100 ms" },
    "on": { "always": "key -> injectors" } } })json";
}

// `parts` and `wires` as in the file.
std::string circuit(const std::string& parts, const std::string& wires, const std::string& claim,
                    const std::string& more = "", const std::string& under = "any") {
    return R"({"lanyard": 1, "name": "m", )" + more + R"("circuit": {"parts": {"battery": "battery", )" + parts +
           R"(}, "wires": {)" + wires + R"(}}, "claims": {"claim": {"always": ")" + claim + R"(", "under": ")" + under +
           R"("}}})";
}

const std::string hand = R"({"is": "switch", "switch": "maintained"})";

std::string why_at_once(const Model& m) {
    Playing p(m, "claim");
    return why_of(m, p.until_broken(2));
}

}  // namespace

TEST_CASE("the alternator feeds what the master switch should cut") {
    const Model m = model_from(backfed("bus - ign"));
    Playing p(m, "off");
    p.set("key", true).set("start", true).set("master", true).engine(Mode::running).scans(60);
    p.set("start", false).set("master", false).until_broken(20);
    check_golden("backfed.txt", story_of(m, p.refuted()));
}

TEST_CASE("a pole that is open") {
    const Model m = model_from(backfed("bus - master.2 - ign"));
    Playing p(m, "on");
    p.set("master", true).set("key", true).scans(2).set("master", false).until_broken(2);
    CHECK(why_of(m, p) ==
          "key on\ninjectors unpowered\n   because master.1 open because master off since 0.02 s\n   because master.2 "
          "open because master off since 0.02 s\n   because inj off because controller has no power\n");
}

TEST_CASE("a lamp between two switches: plus from the one, ground from the other") {
    const std::string parts = R"("lamp": "load", "up": )" + hand + R"(, "down": )" + hand;
    const std::string wires = R"("W1": "battery - up - lamp - down - ground")";
    const Model on = model_from(circuit(parts, wires, "NOT lamp"));
    Playing p(on, "claim");
    p.set("up", true).scans(1).set("down", true).until_broken(2);
    CHECK(why_of(on, p) ==
          "lamp powered because battery - up - lamp - down - ground\n   because up on\n   because down on since 0.01 "
          "s\n");
    const Model off = model_from(circuit(parts, wires, "up -> lamp"));
    Playing q(off, "claim");
    q.set("up", true).until_broken(2);
    CHECK(why_of(off, q) == "up on\nlamp unpowered because down off\n");
    const Model both = model_from(circuit(parts, wires, "lamp"));
    CHECK(why_at_once(both) == "lamp unpowered\n   because up off\n   because down off\n");
}

TEST_CASE("of two ways the one with less in its way is told") {
    const std::string parts = R"("lamp": "load", "a": )" + hand + R"(, "b": )" + hand + R"(, "c": )" + hand;
    const Model m = model_from(
        circuit(parts, R"("W1": "battery - a - b - joint", "W2": "battery - c - joint - lamp - ground")", "lamp"));
    CHECK(why_at_once(m) == "lamp unpowered because c off\n");
}

TEST_CASE("only a weak level explains it") {
    const std::string parts = R"("lamp": "load", "horn": "load", "button": )" + hand;
    const Model m = model_from(circuit(
        parts, R"("W1": "battery - lamp - joint - horn - ground", "W2": "battery - button - joint")", "NOT horn"));
    Playing p(m, "claim");
    p.answer("horn", true).until_broken(2);
    CHECK(why_of(m, p) ==
          "horn powered\n"
          "   because battery - lamp - joint - horn (weak: may or may not\n"
          "   work)\n");
    const Model off = model_from(
        circuit(parts, R"("W1": "battery - lamp - joint - horn - ground", "W2": "battery - button - joint")", "horn"));
    CHECK(why_at_once(off) ==
          "horn unpowered\n"
          "   because battery - lamp - joint - horn (weak: may or may not\n"
          "   work)\n");
}

TEST_CASE("a short blows the fuse") {
    const std::string parts = R"("lamp": "load", "F1": "fuse", "wrong": )" + hand;
    const Model m = model_from(
        circuit(parts, R"("W1": "battery - F1 - joint - lamp - ground", "W2": "joint - wrong - ground")", "lamp"));
    Playing p(m, "claim");
    p.set("wrong", true).until_broken(2);
    CHECK(why_of(m, p) == "lamp unpowered because F1 blows: a short because wrong on\n");
    const Model bare = model_from(
        circuit(parts, R"("W1": "battery - joint - lamp - ground", "W2": "joint - wrong - ground")", "lamp"));
    Playing q(bare, "claim");
    q.set("wrong", true).until_broken(2);
    CHECK(why_of(bare, q) ==
          "lamp unpowered\n"
          "   because plus and ground meet at joint (may or may not work)\n"
          "   because wrong on\n");
}

TEST_CASE("relays of the wiring: coil, voltage, holding by the own contact") {
    const std::string relay = R"("K1": {"is": "relay", "pulls_in": "20 ms"}, "lamp": "load", "go": )" + hand;
    const std::string wires =
        R"("W1": "battery - go - hot - K1.coil - ground", "W2": "battery - K1.make - hot - lamp - ground")";
    const Model m = model_from(circuit(relay, wires, "lamp -> go"));
    Playing p(m, "claim");
    p.set("go", true).scans(5).set("go", false).until_broken(2);
    CHECK(why_of(m, p) ==
          "lamp powered because battery - K1.make - hot - lamp\n"
          "   because K1 pulled in because K1.coil energised\n"
          "   because it has held itself on since 0.00 s\n"
          "   because battery - go - hot - K1.coil because go on at 0.00 s\n"
          "go off since 0.05 s\n");
    const Model late = model_from(circuit(relay, wires, "K1 OR NOT go"));
    Playing q(late, "claim");
    q.set("go", true).until_broken(2);
    CHECK(why_of(late, q) ==
          "K1 dropped out because it may take 20 ms to pull in\n"
          "   because K1.coil energised\n"
          "   because battery - go - hot - K1.coil because go on\n");
    const Model off = model_from(circuit(relay, wires, "K1"));
    CHECK(why_at_once(off) == "K1 dropped out because K1.coil not energised because go off\n");
}

TEST_CASE("a coil with too little voltage") {
    const std::string text = R"({"lanyard": 1, "name": "m", "quantities": {"battery_voltage": "0 .. 16 V"},
        "circuit": {"parts": {"battery": {"is": "battery", "voltage": "battery_voltage"}, "lamp": "load",
            "K1": {"is": "relay", "operates_at": "8 V", "releases_at": "1 V"}},
            "wires": {"W1": "battery - K1.coil - ground", "W2": "battery - K1.make - lamp - ground"}},
        "claims": {"on": {"always": "K1"}, "off": {"always": "NOT K1"}}})";
    const Model m = model_from(text);
    Playing dead(m, "on");
    CHECK(why_of(m, dead.set("battery_voltage", "0.5 V").until_broken(2)) ==
          "K1 dropped out because K1.coil not energised\n"
          "   because battery_voltage 0.5 V is not above 1 V, where it\n"
          "   drops out\n");
    Playing low(m, "on");
    CHECK(why_of(m, low.set("battery_voltage", "7 V").until_broken(2)) ==
          "K1 dropped out because K1.coil not energised\n"
          "   because battery_voltage 7 V is below 8 V: it may or may not\n"
          "   pull in\n");
    Playing luck(m, "off");
    CHECK(why_of(m, luck.set("battery_voltage", "7 V").answer("K1.coil", true).until_broken(2)) ==
          "K1 pulled in because K1.coil energised\n"
          "   because battery - K1.coil\n"
          "   because battery_voltage 7 V is below 8 V: it may or may\n"
          "      not pull in\n");
}

TEST_CASE("inputs, nodes, the controller's supply, a magneto") {
    const std::string inputs = R"("inputs": {"kill_in": {"reads": "ground"}, "loop": {"reads": "plus"}}, )";
    const std::string parts = R"("mag": "magneto", "kill": )" + hand + R"(, "main": )" + hand;
    const std::string wires =
        R"("W1": "battery - main - bus - controller.plus", "W2": "kill_in - kill - ground", "W3": "mag - kill_in",)"
        R"( "W4": "bus - loop")";
    const auto why = [&](const std::string& claim, bool main, bool kill) {
        const Model m = model_from(circuit(parts, wires, claim, inputs));
        Playing p(m, "claim");
        return why_of(m, p.set("main", main).set("kill", kill).until_broken(2));
    };
    CHECK(why("kill_in", true, false) == "kill_in seen off because kill off\n");
    CHECK(why("NOT kill_in", true, true) ==
          "kill_in seen on because ground - kill - kill_in\n"
          "   because kill on\n");
    CHECK(why("loop", false, false) == "loop seen off because main off\n");
    CHECK(why("NOT loop", true, false) ==
          "loop seen on because battery - main - bus - loop\n"
          "   because main on\n");
    CHECK(why("bus", false, false) == "bus dead because main off\n");
    CHECK(why("NOT bus", true, false) == "bus live because battery - main - bus because main on\n");
    CHECK(why("powered", false, false) == "controller has no power because main off\n");
    CHECK(why("NOT powered", true, false) ==
          "controller runs because battery - main - bus - controller\n"
          "   because main on\n");
    CHECK(why("mag", true, true) == "mag unpowered because ground - kill - mag because kill on\n");
    CHECK(why("NOT mag", true, false) == "mag powered because kill off\n");
}

TEST_CASE("a controller without power sees nothing") {
    const Model m = model_from(R"({"lanyard": 1, "name": "m", "inputs": {"live": {"reads": "plus"}},
      "outputs": {"lamp": "live"}, "circuit": {"parts": {"battery": "battery", "main": )" +
                               hand + R"(},
        "wires": {"W1": "battery - live", "W2": "battery - main - controller.plus"}},
      "claims": {"claim": {"always": "NOT lamp"}}})");
    Playing p(m, "claim");
    p.scans(2).set("main", true).until_broken(2);
    check_golden("sees-later.txt", story_of(m, p.refuted()));
}

TEST_CASE("an alternator needs its field") {
    const std::string parts = R"("alt": "alternator", "lamp": "load", "key": )" + hand;
    const std::string wires = R"("W1": "battery - key - alt.field", "W2": "alt - out - lamp - ground")";
    const std::string engine = R"("engine": {}, )";
    const Model m = model_from(circuit(parts, wires, "engine = running -> lamp", engine));
    Playing p(m, "claim");
    p.engine(Mode::running).until_broken(400);
    CHECK(why_of(m, p) ==
          "engine running since 0.51 s\nlamp unpowered because alt (engine running) supplies nothing\n   because "
          "alt.field not fed at 0.50 s because key off\n");
    const Model fed = model_from(circuit(parts, wires, "NOT lamp", engine));
    Playing q(fed, "claim");
    q.set("key", true).engine(Mode::running).until_broken(400);
    CHECK(why_of(fed, q) ==
          "lamp powered because alt (engine running) - out - lamp\n"
          "   because alt.field fed at 0.50 s\n"
          "   because battery - key - alt.field because key on\n");
}
