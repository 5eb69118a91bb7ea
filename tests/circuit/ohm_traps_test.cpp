// Wirings whose outcome was reckoned by hand, in which a rule about levels easily goes wrong: what Ohm's law makes of
// them, and that the program does not say more.
#include <algorithm>
#include <catch2/catch.hpp>

#include "../models.hpp"
#include "ohm_models.hpp"

namespace lanyard::test::ohm {

using namespace sim;

namespace {

struct Trap {
    const char* name;
    const char* parts;
    const char* wires;
    std::map<std::string, bool> levers;
    std::set<std::string> faults;
    const char* consumer;
    const char* word;  // of Reading
};

const char* const hand = "{'is': 'switch', 'switch': 'maintained'}";

// Beside each: why.
const std::vector<Trap> traps = {
    {"a dead short leaves nothing sure behind a fuse",
     "'B': 'battery', 'F1': 'fuse', 'L': 'load', 'S': HAND",
     "'W1': 'B - n - S - ground', 'W2': 'n - F1 - L - ground'",
     {{"S", true}},
     {},
     "L",
     "in doubt"},
    {"nor behind a diode",
     "'B': 'battery', 'D': 'diode', 'L': 'load', 'S': HAND",
     "'W1': 'B - S - ground', 'W2': 'B - D - L - ground'",
     {{"S", true}},
     {},
     "L",
     "in doubt"},
    {"nor across one of two sources in series",
     "'B1': 'battery', 'B2': 'battery', 'L': 'load', 'S': HAND",
     "'W1': 'B1.minus - B2', 'W2': 'B1 - S - ground', 'W3': 'B2 - L - ground'",
     {{"S", true}},
     {},
     "L",
     "in doubt"},
    {"two sources in series, the lower one alone feeds",
     "'B1': 'battery', 'B2': 'battery', 'L': 'load', 'S': HAND",
     "'W1': 'B1.minus - B2', 'W2': 'B1 - S - ground', 'W3': 'B2 - L - ground'",
     {},
     {},
     "L",
     "on"},
    {"a diode in the minus lead, the wrong way",
     "'B': 'battery', 'D': 'diode', 'L': 'load'",
     "'W1': 'B.minus - D - ground', 'W2': 'B - L - ground'",
     {},
     {},
     "L",
     "off"},
    {"a diode in the minus lead, the right way",
     "'B': 'battery', 'D': 'diode', 'L': 'load'",
     "'W1': 'ground - D - B.minus', 'W2': 'B - L - ground'",
     {},
     {},
     "L",
     "on"},
    {"either of two fuses goes",
     "'B': 'battery', 'F1': 'fuse', 'F2': 'fuse', 'L': 'load', 'S': HAND",
     "'W1': 'B - F1 - n', 'W2': 'n - L - ground', 'W3': 'n - F2 - S - ground'",
     {{"S", true}},
     {},
     "L",
     "in doubt"},
    {"the one fuse there is goes",
     "'B': 'battery', 'F1': 'fuse', 'L': 'load', 'S': HAND",
     "'W1': 'B - F1 - n', 'W2': 'n - L - ground', 'W3': 'n - S - ground'",
     {{"S", true}},
     {},
     "L",
     "off"},
    {"the one fuse there is takes the short alone",
     "'B': 'battery', 'F1': 'fuse', 'L': 'load', 'S': HAND",
     "'W1': 'B - L - ground', 'W2': 'B - F1 - S - ground'",
     {{"S", true}},
     {},
     "L",
     "on"},
    {"a fuse in plus or one in minus",
     "'B': 'battery', 'F1': 'fuse', 'F2': 'fuse', 'L': 'load', 'S': HAND",
     "'W1': 'B.minus - F1 - ground', 'W2': 'B - F2 - S - ground', 'W3': 'B - L - ground'",
     {{"S", true}},
     {},
     "L",
     "in doubt"},
    {"a lamp lights through a field winding",
     "'B': 'battery', 'alt': {'is': 'alternator', 'live': 'FALSE'}, 'L': 'load'",
     "'W1': 'B - L - alt.field', 'W2': 'alt - B'",
     {},
     {},
     "L",
     "in doubt"},
    {"what one piece of a wire feeds past a splice",
     "'B': 'battery', 'L': 'load', 'M': 'load'",
     "'W1': 'B - bus - warn - L - ground', 'W2': 'bus - M - ground'",
     {},
     {"W1.2.open"},
     "M",
     "on"},
    {"what hangs behind the broken piece",
     "'B': 'battery', 'L': 'load', 'M': 'load'",
     "'W1': 'B - bus - warn - L - ground', 'W2': 'bus - M - ground'",
     {},
     {"W1.2.open"},
     "L",
     "off"},
    {"what hangs past a splice on a wire that is broken somewhere",
     "'B': 'battery', 'L': 'load', 'M': 'load'",
     "'W1': 'B - bus - warn - L - ground', 'W2': 'bus - M - ground'",
     {},
     {"W1.open"},
     "M",
     "in doubt"},
    {"two lamps in a row",
     "'B': 'battery', 'L': 'load', 'M': 'load'",
     "'W1': 'B - L - M - ground'",
     {},
     {},
     "L",
     "in doubt"},
    {"the cut-off minus, between the two ends",
     "'B': 'battery', 'L': 'load', 'S': HAND",
     "'W1': 'B.minus - n', 'W2': 'n - S - ground', 'W3': 'B - L - n'",
     {},
     {},
     "L",
     "on"},
    {"the cut-off minus, by way of the chassis",
     "'B': 'battery', 'L': 'load', 'S': HAND",
     "'W1': 'B.minus - S - ground', 'W3': 'B - L - ground'",
     {},
     {},
     "L",
     "off"},
};

Json json_of(const Trap& t) {
    std::string text = std::string("{'lanyard': 1, 'name': 'trap', 'circuit': {'parts': {") + t.parts +
                       "}, 'wires': {" + t.wires + "}}, 'claims': {'c': {'always': 'L', 'under': 'broken'}}, " +
                       "'conditions': {'broken': {'base': 'any', 'faults': {'of': ['everything']}}}}";
    for (std::size_t at = 0; (at = text.find("HAND")) != std::string::npos;) text.replace(at, 4, hand);
    return Json::parse(requoted(text));
}

}  // namespace

TEST_CASE("Ohm's law in wirings reckoned by hand", "[short]") {
    for (const Trap& t : traps) {
        INFO(t.name);
        const Json model = json_of(t);
        std::mt19937_64 random(1);
        const Readings r = look(read_net(model), {t.levers, t.faults}, {60, false}, random);
        REQUIRE(r.solved);
        REQUIRE(r.consumers.count(t.consumer) == 1);
        CHECK(std::string(r.consumers.at(t.consumer).word()) == t.word);
    }
}

TEST_CASE("the program does not say more than Ohm's law, in wirings reckoned by hand", "[.ohm]") {
    for (const Trap& t : traps) {
        INFO(t.name);
        const Case c{json_of(t), {t.levers, t.faults}};
        const auto m = program_model(c.model);
        REQUIRE(m);
        const auto has = [&](const std::string& f) {
            return std::any_of(m->faults.begin(), m->faults.end(), [&](const Fault& x) { return x.name == f; });
        };
        if (!std::all_of(t.faults.begin(), t.faults.end(), has)) continue;  // the program knows no such break
        Tally ignored;
        for (const auto& d : judge(c, *m, {60, true}, 1, ignored)) {
            INFO(told(c, d));
            CHECK(d.question.empty());
        }
    }
}

}  // namespace lanyard::test::ohm
