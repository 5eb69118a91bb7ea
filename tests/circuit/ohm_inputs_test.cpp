// Wired inputs reckoned by hand: what Ohm's law makes of them, and that the program does not say more.
#include <algorithm>
#include <catch2/catch.hpp>

#include "../models.hpp"
#include "ohm_models.hpp"

namespace lanyard::test::ohm {

using namespace sim;

namespace {

struct Wired {
    const char* name;
    const char* input;
    const char* parts;  // beside the battery B and the lamp L
    const char* wires;  // beside those of the lamp
    bool closed;        // the switch S
    const char* word;   // "on" is high
};

const std::vector<Wired> wired = {
    {"a kill switch to ground pulls the pin down", "'reads': 'ground'", "",
     "'P': 'B - controller.plus', 'I': 'pin - S - ground'", true, "off"},
    {"an open one leaves it pulled up", "'reads': 'ground'", "", "'P': 'B - controller.plus', 'I': 'pin - S - ground'",
     false, "on"},
    {"plus through a switch", "'reads': 'plus'", "", "'P': 'B - controller.plus', 'I': 'B - S - pin'", true, "on"},
    {"an open one leaves it pulled down", "'reads': 'plus'", "", "'P': 'B - controller.plus', 'I': 'B - S - pin'",
     false, "off"},
    {"pulled up, an open switch to plus makes no difference", "'reads': 'plus', 'pull': 'up'", "",
     "'P': 'B - controller.plus', 'I': 'B - S - pin'", false, "on"},
    {"a lamp and the pull share the voltage", "'reads': 'ground'", "'M': 'load',",
     "'P': 'B - controller.plus', 'I': 'pin - M - S - ground'", true, "in doubt"},
    {"a diode lets the pull's current out", "'reads': 'ground'", "'D': 'diode',",
     "'P': 'B - controller.plus', 'I': 'pin - D - S - ground'", true, "off"},
    {"and none against it", "'reads': 'ground'", "'D': 'diode',",
     "'P': 'B - controller.plus', 'I': 'ground - D - S - pin'", true, "on"},
    {"the pull that has plus behind it is no plus for a pin pulled down", "'reads': 'plus', 'pull': 'down'", "",
     "'P': 'B - controller.plus', 'I': 'pin - S - ground', 'G': 'controller.ground - ground'", true, "off"},
    {"a controller on a dead short sees nothing", "'reads': 'ground'", "",
     "'P': 'B - controller.plus', 'I': 'pin - ground', 'K1': 'B - S - ground'", true, "not judged"},
};

Case case_of(const Wired& w) {
    const std::string text = std::string("{'lanyard': 1, 'name': 'inputs', 'inputs': {'pin': {") + w.input +
                             "}}, 'circuit': {'parts': {'B': 'battery', 'L': 'load', " + w.parts +
                             "'S': {'is': 'switch', 'switch': 'maintained'}}, 'wires': {'W1': 'B - L - ground', " +
                             w.wires + "}}, 'claims': {'c': {'always': 'L', 'under': 'broken'}}, " +
                             "'conditions': {'broken': {'base': 'any', 'faults': {'of': ['everything']}}}}";
    return {Json::parse(requoted(text)), {{{"S", w.closed}}, {}}};
}

}  // namespace

TEST_CASE("Ohm's law at wired inputs reckoned by hand", "[short]") {
    for (const Wired& w : wired) {
        INFO(w.name);
        const Case c = case_of(w);
        std::mt19937_64 random(1);
        const Readings r = look(read_net(c.model), c.state, {60, false}, random);
        REQUIRE(r.solved);
        REQUIRE(r.pins.count("pin") == 1);
        const Reading& pin = r.pins.at("pin");
        CHECK(std::string(pin.judged ? pin.word() : "not judged") == w.word);
    }
}

TEST_CASE("the program says of wired inputs reckoned by hand what Ohm's law does", "[short]") {
    for (const Wired& w : wired) {
        INFO(w.name);
        const Case c = case_of(w);
        const auto m = program_model(c.model);
        REQUIRE(m);
        const Fed high = answers_of(*m, read_net(c.model), c.state, false).at({"high", "pin"});
        if (std::string(w.word) == "not judged") continue;
        CHECK(std::string(high.must ? "on" : high.may ? "in doubt" : "off") == w.word);
    }
}

}  // namespace lanyard::test::ohm
