// Claims, their conditions, and the driver's steps.
#include <catch2/catch.hpp>

#include "helpers.hpp"

using namespace lanyard::model;
using namespace lanyard::test;

namespace {

const std::string inputs =
    "'inputs': { 'key': 'maintained', 'start': 'momentary', 'kill': { 'switch': 'maintained', 'rests': 'on' } },"
    "'engine': {}, ";

Model with_claims(const std::string& claims) { return good(inputs + "'claims': {" + claims + "}"); }

Procedure procedure(const std::string& steps) {
    const Model m = with_claims("'p': { 'procedure': [" + steps + "], 'ends_with': 'key' }");
    return std::get<Procedure>(claim(m, "p").body);
}

using Positions = Indexed<Switch, bool>;  // key, start, kill

}  // namespace

TEST_CASE("four kinds, with the usual condition of each") {
    const Model m = with_claims(
        "'a': { 'always': 'key -> start' }, 'r': { 'whenever': 'key', 'for': '2 s', 'then': 'start', 'within': '0.2 s' "
        "},"
        "'p': { 'possible': 'engine = running' },"
        "'s': { 'procedure': ['wait 1 s'], 'ends_with': 'key', 'within': '3 s' }, 't': { 'whenever': 'key', 'then': "
        "'start', 'within': '0 s', 'under': 'healthy' }");
    CHECK(claim(m, "a").condition == any_condition);
    CHECK(claim(m, "r").condition == any_condition);
    CHECK(claim(m, "p").condition == healthy_condition);
    CHECK(claim(m, "s").condition == healthy_condition);
    CHECK(claim(m, "t").condition == healthy_condition);
    const auto& r = std::get<Response>(claim(m, "r").body);
    CHECK(r.for_time == 2);
    CHECK(r.within == Rational(1, 5));
    CHECK(std::get<Response>(claim(m, "t").body).for_time == 0);
    CHECK(std::get<Procedure>(claim(m, "s").body).within == Rational(3));
    CHECK(std::get<Always>(claim(m, "a").body).body->op == Op::implies);
    CHECK(m.conditions[any_condition].name == "any");
    CHECK(m.conditions[healthy_condition].healthy);
}

TEST_CASE("conditions: named, spelt out, shared") {
    const Model m = good(inputs +
                         "'quantities': { 'clt': '0 .. 150 degC' }, 'conditions': { 'hot': { 'base': 'healthy', "
                         "'except': { 'clt': '106 .. "
                         "114 degC' } }, 'idle': 'NOT key' }, 'claims': { 'a': { 'always': 'key', 'under': 'hot' },"
                         "'b': { 'always': 'key', 'under': 'healthy, except clt within 100 .. 110 degC, road_speed "
                         "within 0 .. 9 km/h, NOT "
                         "kill' }, 'c': { 'always': 'key', 'under': 'NOT kill OR start' }, 'd': { 'possible': 'key', "
                         "'under': 'NOT kill OR "
                         "start' }, 'e': { 'possible': 'key', 'under': 'kill' }, 'f': { 'possible': 'key', 'under': "
                         "'any, kill, key' } }");
    const auto condition = [&](const char* id) { return m.conditions[claim(m, id).condition]; };
    CHECK(condition("a").name == "hot");
    CHECK(condition("a").healthy);
    REQUIRE(condition("a").replaced.size() == 1);
    CHECK(condition("b").healthy);
    CHECK(condition("b").replaced.size() == 2);
    CHECK(condition("b").holds.size() == 1);
    CHECK(condition("b").text.find("except clt within") != std::string::npos);
    CHECK_FALSE(condition("c").healthy);
    CHECK(claim(m, "c").condition == claim(m, "d").condition);
    CHECK(condition("e").holds.size() == 1);
    CHECK(condition("f").holds.size() == 2);
    CHECK_FALSE(condition("f").healthy);
}

TEST_CASE("steps become phases with every switch somewhere") {
    const auto p = procedure("'set key', 'wait 1 s', 'hold start for 2 s', 'press kill', 'clear key'");
    REQUIRE(p.phases.size() == 3);
    CHECK(p.phases[0].positions == Positions{true, false, true});
    CHECK(p.phases[0].limit == 1);
    CHECK(p.phases[0].text == "set key, wait 1 s");
    CHECK(p.phases[1].positions == Positions{true, true, true});
    CHECK(p.phases[1].limit == 2);
    CHECK(p.phases[2].positions == Positions{true, false, false});  // pressed: the other way than it rests
    CHECK(p.phases[2].limit == Rational(3, 10));
    CHECK(p.rest == Positions{false, false, true});
    CHECK_FALSE(p.within);
}

TEST_CASE("steps that wait for something") {
    const auto p = procedure(
        "'hold start until engine = running AND 2 of (key, start, kill), at most 4 s',"
        "'wait  until TON(key, 1 s) , at most 10 s, reacts in 0.1 .. 0.2 s', 'set start', 'hold start until key, at "
        "most "
        "1 s, reacts in 0 s', 'wait 1 s'");
    REQUIRE(p.phases.size() == 4);
    CHECK(p.phases[0].until);
    CHECK(p.phases[0].limit == 4);
    CHECK(p.phases[0].reaction == Interval{0, Rational(1, 2)});
    CHECK(p.phases[1].reaction == Interval{Rational(1, 10), Rational(1, 5)});
    CHECK(p.phases[1].positions == Positions{false, false, true});
    CHECK(p.phases[2].positions == Positions{false, true, true});
    CHECK(p.phases[2].reaction == Interval{0, 0});
    CHECK(p.phases[3].positions == Positions{false, true, true});  // back to what it was: set
    CHECK(p.rest == Positions{false, true, true});
}

TEST_CASE("a claim about something broken has only its own errors") {
    const auto found = codes(
        "'inputs': { 'oil': { 'senses': 'oil_presure' } },\n"
        "'logic': { 'low': 'oil < 1 bar', 'bad': 'low AND (', 'worse': 'bad > 3 bar' },\n"
        "'claims': { 'a': { 'always': 'bad AND low' }, 'b': { 'always': 'worse AND nothing' } }");
    CHECK(found ==
          std::vector<std::string>{"unknown-quantity at 2:33", "syntax-expression at 3:50", "unknown-name at 4:75"});
}
