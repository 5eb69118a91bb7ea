// Quantities, the engine, supply and lines: what a model says about the world, and what it gets when it says nothing.
#include <catch2/catch.hpp>

#include "helpers.hpp"
#include "lang/print.hpp"
#include "model/defaults.hpp"

using namespace lanyard::model;
using namespace lanyard::test;

namespace {

Rational in(const char* number, const char* unit, bool difference = false) {
    return to_si(parse_decimal(number).value(), find_unit(unit).value(), difference);
}
Interval interval(const char* lo, const char* hi, const char* unit) { return {in(lo, unit), in(hi, unit)}; }

const ModeBand& band(const Quantity& q, Mode m) {
    const auto& b = q.healthy.at(ordinal(m));
    REQUIRE(b);
    return *b;
}

}  // namespace

TEST_CASE("standard quantities need no entry") {
    const Model m = good("'claims': { 'a': { 'possible': 'road_speed > 3 km/h AND throttle > 5 %' } }");
    REQUIRE(m.quantities.size() == 2);
    CHECK(quantity(m, "road_speed").range == interval("0", "250", "km/h"));
    CHECK(quantity(m, "road_speed").range_is_default);
    CHECK(quantity(m, "throttle").range == interval("0", "100", "%"));
    CHECK_FALSE(m.engine);
    CHECK(!m.mode);
}

// Common practice, no source: the table at the head of shared figures for healthy engines.
TEST_CASE("an engine brings common practice with it") {
    const Model m = good(
        "'engine': {}, 'claims': { 'a': { 'possible': 'engine_speed > 0 rpm AND oil_pressure > 0 psi AND "
        "battery_voltage > 0 V AND coolant_temperature > 0 degC AND road_speed > 0 km/h' } }");
    REQUIRE(m.engine);
    CHECK(m.engine->defaults == std::vector<std::string>{"firing_time", "coast_down", "catches_above"});
    CHECK(m.engine->firing_time == interval("0.5", "2", "s"));
    CHECK(m.engine->coast_down == interval("0.3", "3", "s"));
    CHECK(m.engine->catches_above == in("400", "rpm"));
    CHECK(m.engine->run_on == interval("0", "0", "s"));
    CHECK_FALSE(m.engine->push_start);
    CHECK(!m.engine->cranks_with);
    CHECK(m.engine->fires_with.empty());
    const auto& speed = quantity(m, "engine_speed");
    CHECK(m.quantities[m.engine->speed].signal == speed.signal);
    CHECK(band(speed, Mode::stopped).within == interval("0", "0", "rpm"));
    CHECK(band(speed, Mode::cranking).within == interval("150", "250", "rpm"));
    CHECK(band(speed, Mode::running).within == interval("850", "7200", "rpm"));
    CHECK(band(speed, Mode::coasting).within == interval("0", "7200", "rpm"));
    CHECK(band(speed, Mode::running).is_default);
    const auto& oil = quantity(m, "oil_pressure");
    CHECK(band(oil, Mode::stopped).within == interval("0", "2", "psi"));
    CHECK(band(oil, Mode::stopped).after == Rational(5));
    CHECK(band(oil, Mode::stopped).before == interval("0", "75", "psi"));
    CHECK(band(oil, Mode::cranking).within == interval("0", "12", "psi"));
    CHECK(band(oil, Mode::running).within == interval("25", "75", "psi"));
    CHECK(band(oil, Mode::running).after == Rational(3));
    CHECK_FALSE(band(oil, Mode::coasting).after);
    const auto& battery = quantity(m, "battery_voltage");
    CHECK(band(battery, Mode::cranking).within == interval("8.5", "11", "V"));
    CHECK(band(battery, Mode::running).before == interval("8.5", "14.6", "V"));
    CHECK(band(quantity(m, "coolant_temperature"), Mode::coasting).within == interval("10", "102", "degC"));
    CHECK_FALSE(quantity(m, "road_speed").healthy[0]);
}

TEST_CASE("roles give the defaults to quantities of other names") {
    const Model m = good(
        "'engine': { 'speed': 'revs', 'oil_pressure': 'oil' }, 'quantities': { 'revs': {}, 'oil': '0 .. 4 bar' },"
        "'claims': { 'a': { 'possible': 'engine_speed > 1 rpm' } }");
    CHECK(quantity(m, "revs").range == interval("0", "9000", "rpm"));
    CHECK(quantity(m, "revs").range_is_default);
    CHECK(m.quantities[m.engine->speed].signal == quantity(m, "revs").signal);
    CHECK(band(quantity(m, "oil"), Mode::running).within == Interval{in("1.7", "bar"), in("4", "bar")});  // clipped
    CHECK_FALSE(quantity(m, "oil").range_is_default);
    CHECK_FALSE(quantity(m, "engine_speed").healthy[0]);  // only a quantity like any other here
}

TEST_CASE("a role alone makes its quantity, unless it looks like a slip of the pen") {
    const Model m = good("'engine': { 'speed': 'rpm_1', 'coolant_temperature': 'clt' }");
    CHECK(quantity(m, "clt").range == interval("-40", "150", "degC"));
    CHECK(codes("'engine': { 'speed': 'engine_sped' }") == std::vector<std::string>{"unknown-quantity at 2:23"});
}

TEST_CASE("healthy values of the file replace common practice as a whole") {
    const Model m = good(
        "'engine': {}, 'quantities': { 'oil_pressure': { 'range': '0 .. 8 bar', 'healthy': {"
        "'running': { 'within': '2 .. 6 bar', 'after': '1.5 s' }, 'stopped': '0 .. 0.1 bar' } } }");
    const auto& oil = quantity(m, "oil_pressure");
    CHECK(band(oil, Mode::running).within == interval("2", "6", "bar"));
    CHECK(band(oil, Mode::running).before == interval("0", "8", "bar"));
    CHECK(band(oil, Mode::running).after == Rational(3, 2));
    CHECK_FALSE(band(oil, Mode::running).is_default);
    CHECK_FALSE(oil.healthy[ordinal(Mode::cranking)]);
}

TEST_CASE("one healthy interval is the same in all modes, with or without an engine") {
    const Model m = good("'quantities': { 'gear': { 'range': '0 .. 200 degC', 'healthy': '10 .. 120 degC' } }");
    for (const auto& b : quantity(m, "gear").healthy) {
        REQUIRE(b);
        CHECK(b->within == interval("10", "120", "degC"));
        CHECK(b->place.line == 2);
    }
}

TEST_CASE("lines follow the machine") {
    const Model m = good(
        "'engine': {}, 'inputs': { 'key': 'maintained' }, 'outputs': { 'pump': { 'on': 'key', 'feeds': 'water' } },"
        "'quantities': { 'coolant_temperature': { 'follows': ["
        "{ 'when': 'engine = running AND NOT water AND key AND coolant_temperature < 99 degC', 'changes': '-1 .. 2 "
        "degF/s' }, { 'within': '0 .. 120 degC', 'under': 'healthy' } ] } }");
    const auto& q = quantity(m, "coolant_temperature");
    REQUIRE(q.lines.size() == 2);
    CHECK(q.moves());
    CHECK(q.lines[0].is_change);
    CHECK_FALSE(q.lines[0].healthy_only);
    CHECK(q.lines[0].band == Interval{Rational(-5, 9), Rational(10, 9)});  // a difference of 9 degF is 5 K: NIST SP 811
    CHECK(q.lines[1].healthy_only);
    CHECK(q.lines[1].band == interval("0", "120", "degC"));
    CHECK(q.lines[1].when->op == Op::truth);
    std::vector<std::string> earlier, present;
    visit(q.lines[0].when, [&](const Expr& e) {
        if (e.op == Op::last) earlier.push_back(m.name_of(e.signal));
        if (e.op == Op::signal) present.push_back(m.name_of(e.signal));
    });
    CHECK(earlier == std::vector<std::string>{"water", "coolant_temperature"});
    CHECK(present == std::vector<std::string>{"engine", "key"});
}

TEST_CASE("the supply sees the world now and the machine one scan ago") {
    const Model m = good(
        "'inputs': { 'key': 'maintained' }, 'outputs': { 'hold': { 'on': 'key', 'relay': 'main' }, 'fan': { 'duty': "
        "'5 %' } }, 'relays': { 'main': { 'feeds': 'coils' } },"
        "'supply': { 'when': '(key OR main OR hold OR fan > 0 %) AND battery_voltage > 6 V', 'boots_in': '20 ms' }");
    REQUIRE(m.supply.on);
    CHECK(m.supply.boots_in == interval("0", "0.02", "s"));
    visit(m.supply.on, [&](const Expr& e) {
        if (e.op == Op::last) CHECK(m.signal(e.signal).kind != SignalKind::position);
        if (e.op == Op::signal)
            CHECK((m.signal(e.signal).kind == SignalKind::position || m.signal(e.signal).kind == SignalKind::quantity));
    });
    CHECK_FALSE(good("'inputs': { 'key': 'maintained' }").supply.on);
}

TEST_CASE("loads that nothing feeds are free") {
    const Model m = good(
        "'inputs': { 'key': 'maintained' }, 'outputs': { 'pump': 'key', 'main': { 'on': 'key', 'relay': 'r' } },"
        "'relays': { 'r': {} }, 'engine': { 'fires_with': ['coils', 'pump', 'r'], 'cranks_with': 'starter' }");
    REQUIRE(m.engine->fires_with.size() == 3);
    const auto load = [&](LoadId i) { return m.loads[i]; };
    CHECK(load(m.engine->fires_with[0]).feeders.empty());
    CHECK(m.name_of(load(m.engine->fires_with[1]).feeders.at(0)) == "pump");
    CHECK(m.signal(load(m.engine->fires_with[2]).feeders.at(0)).kind == SignalKind::contact);
    CHECK(m.name_of(load(m.engine->cranks_with).signal) == "starter");
}
