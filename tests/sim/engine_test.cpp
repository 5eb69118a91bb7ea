// The engine automaton, its clocks, and what a quantity may be: the rules of `lanyard help meaning`. Times and values
// are typical ones, common practice, no source.
#include "bench.hpp"

using namespace lanyard::sim;
using namespace lanyard::test;

namespace {

// An engine that fires with `inj` and is cranked by `starter`; 10 ms.
std::string engine(const std::string& more = "", const std::string& rest = "") {
    return "'inputs': {'key': 'maintained', 'start': 'momentary'}, "
           "'quantities': {'turns': '0 .. 9000 rpm'}, "
           "'outputs': {'inj': 'key', 'starter': 'start'}, "
           "'engine': {'fires_with': ['inj'], 'cranks_with': 'starter', 'speed': 'turns', "
           "'firing_time': '30 .. 50 ms', 'coast_down': '20 .. 40 ms', 'catches_above': '400 rpm'" +
           more + "}" + rest;
}

Bench& cranking(Bench& b) {
    b.set("key", true).set("start", true).set("turns", "0 rpm").set(Mode::cranking).step();
    b.set("turns", "200 rpm");
    return b;
}

Bench& running(Bench& b) {
    cranking(b).step(2);
    b.set(Mode::running).step();
    b.set("turns", "900 rpm").set("start", false);
    return b;
}

}  // namespace

TEST_CASE("stopped: a healthy starter cranks, any may") {
    for (const auto& [condition, with_starter] : {std::pair("any", "sc"), std::pair("healthy", "c")}) {
        Bench b(engine(), condition);
        CHECK(followers(b) == "s");
        b.set("start", true);
        CHECK(followers(b) == with_starter);
    }
    Bench pushed(engine(", 'push_start': true"), "healthy");
    CHECK(followers(pushed) == "sc");
}

TEST_CASE("cranking fires after its loads have had power, unbroken, for the firing time") {
    Bench b(engine(), "any");
    cranking(b);
    CHECK(followers(b) == "c");  // the first scan of cranking
    b.set(Mode::cranking).step(2);
    CHECK(followers(b) == "cr");  // the third: 30 ms
    b.set("start", false);
    CHECK(followers(b) == "sr");
    // A break starts the count anew.
    b.set("start", true).set("key", false);
    CHECK(followers(b) == "c");
    b.set(Mode::cranking).step();
    b.set("key", true).set(Mode::cranking).step(2);
    CHECK(followers(b) == "cr");
    // Any engine may never fire.
    b.set(Mode::cranking).step(100);
    CHECK(followers(b) == "cr");
}

TEST_CASE("a healthy engine fires at the latest after the longest time, whatever the starter does") {
    Bench b(engine(), "healthy");
    cranking(b).set(Mode::cranking).step(3);
    CHECK(followers(b) == "cr");  // the fourth scan
    b.set(Mode::cranking).step();
    CHECK(followers(b) == "r");  // the fifth: 50 ms
    b.set("start", false);
    CHECK(followers(b) == "r");
    b.set("key", false);
    CHECK(followers(b) == "s");
}

TEST_CASE("without a starter in the model cranking is free") {
    const std::string text =
        "'inputs': {'key': 'maintained'}, 'outputs': {'inj': 'key'}, "
        "'engine': {'fires_with': ['inj'], 'firing_time': '0 .. 1 s'}";
    for (const char* condition : {"any", "healthy"}) {
        Bench b(text, condition);
        CHECK(followers(b) == "sc");
        b.set(Mode::cranking).step();
        CHECK(followers(b) == "sc");
        b.set("key", true);
        CHECK(followers(b) == "scr");  // 0 s: from the first scan with power
    }
}

TEST_CASE("running ends when a load is lost, or with a stall") {
    Bench healthy(engine(), "healthy");
    running(healthy);
    CHECK(followers(healthy) == "r");
    healthy.set("key", false);
    CHECK(followers(healthy) == "o");
    Bench any(engine(), "any");
    running(any);
    CHECK(followers(any) == "ro");
    any.set("key", false);
    CHECK(followers(any) == "o");
}

TEST_CASE("run-on keeps an engine running for a while") {
    // 15 .. 30 ms at 10 ms: may coast from the second lost scan on, must with the third.
    Bench b(engine(", 'run_on': '15 .. 30 ms'"), "healthy");
    running(b).set("key", false);
    CHECK(followers(b) == "r");
    b.set(Mode::running).step();
    CHECK(followers(b) == "ro");
    b.set(Mode::running).step();
    CHECK(followers(b) == "o");
    // Back in time: the count starts anew.
    b.set("key", true);
    CHECK(followers(b) == "r");
    b.set(Mode::running).step();
    b.set("key", false);
    CHECK(followers(b) == "r");
}

TEST_CASE("coasting: coast-down, catching, cranking again") {
    for (const bool healthy : {false, true}) {
        Bench b(engine(), healthy ? "healthy" : "any");
        running(b).set("key", false).set(Mode::coasting).step();
        b.set("turns", "400 rpm");
        CHECK(followers(b) == (healthy ? "o" : "so"));  // first scan in coasting: 10 of 20 .. 40 ms
        b.set("key", true);
        CHECK(followers(b) == (healthy ? "o" : "so"));  // 400 rpm is not above 400 rpm
        b.set("turns", "401 rpm");
        CHECK(followers(b) == (healthy ? "ro" : "sro"));
        b.set("start", true);
        CHECK(followers(b) == (healthy ? "cro" : "scro"));
        b.set("start", false).set("key", false).set(Mode::coasting).step();
        CHECK(followers(b) == "so");
        b.set(Mode::coasting).step(2);
        CHECK(followers(b) == (healthy ? "s" : "so"));  // 40 ms
    }
}

TEST_CASE("speed is tied to the mode under every condition") {
    Bench b(engine(), "any");
    b.set("turns", "1 rpm");
    CHECK(b.refusal() == "speed and mode: turns is 1 rpm while the engine is stopped, it must be 0");
    cranking(b).set("turns", "0 rpm");
    CHECK(b.refusal() == "speed and mode: turns is 0 rpm while the engine is cranking, it must be above 0");
    b.set("turns", "9001 rpm");
    CHECK(b.refusal() == "range: turns is 9001 rpm, its range is 0 rpm .. 9000 rpm");
}

TEST_CASE("healthy bands: build-up counts from firing") {
    // A band with `after: 30 ms`: the one before holds in the first running scan and in the two behind it.
    const std::string oil = ", 'note': 'x', 'claims': {}";
    const std::string text =
        "'inputs': {'key': 'maintained', 'start': 'momentary'}, "
        "'quantities': {'turns': '0 .. 9000 rpm', 'oil': {'range': '0 .. 100 psi', 'healthy': {'running': "
        "{'within': '25 .. 75 psi', 'after': '30 ms', 'before': '0 .. 75 psi'}, "
        "'stopped': {'within': '0 .. 2 psi', 'after': '30 ms', 'before': '0 .. 75 psi'}, "
        "'coasting': '0 .. 75 psi'}}}, "
        "'outputs': {'inj': 'key', 'starter': 'start'}, "
        "'engine': {'fires_with': ['inj'], 'cranks_with': 'starter', 'speed': 'turns', "
        "'firing_time': '30 .. 50 ms', 'coast_down': '10 .. 100 ms', 'catches_above': '400 rpm'}";
    Bench b(text, "healthy");
    b.set("oil", "3 psi");
    // Stopped for long: the bleed-down is over.
    CHECK(b.refusal() == "healthy: oil is 3 psi while the engine is stopped, healthy is 0 psi .. 2 psi");
    b.set("oil", "0 psi");
    running(b).set(Mode::running).step(3);
    CHECK(b.refusal() == "healthy: oil is 0 psi while the engine is running, healthy is 25 psi .. 75 psi");
    b.set("oil", "25 psi").step();
    // Coasting and catching again is no new start: the band of running goes on at once.
    b.set("key", false).set(Mode::coasting).step();
    b.set("key", true).set("oil", "0 psi").set(Mode::running).step();
    CHECK(b.refusal().find("healthy: oil is 0 psi") == 0);
    // Bleed-down: 30 ms from the last scan in running or coasting.
    b.set("oil", "25 psi").set("key", false).set(Mode::coasting).step();
    b.set(Mode::stopped).step();
    b.set("turns", "0 rpm").set("oil", "70 psi").step(2);
    CHECK(b.refusal().find("healthy: oil is 70 psi while the engine is stopped") == 0);
    b.set("oil", "2 psi").step();
    // Under `any` none of it.
    Bench any(text, "any");
    any.set("oil", "100 psi").step();
}

TEST_CASE("a condition may put an interval in the place of the healthy bands") {
    const std::string text =
        "'inputs': {'key': 'maintained'}, 'quantities': {'oil': {'range': '0 .. 100 psi', 'healthy': '20 .. 80 psi'}}, "
        "'outputs': {'lamp': 'oil > 5 psi'}, "
        "'conditions': {'thin': {'base': 'healthy', 'except': {'oil': '0 .. 10 psi'}}, "
        "'keyed': 'key AND NOT TON(oil < 1 psi, 20 ms)'}";
    Bench healthy(text, "healthy");
    healthy.set("oil", "10 psi");
    CHECK(healthy.refusal() == "healthy: oil is 10 psi, healthy is 20 psi .. 80 psi");
    Bench thin(text, "thin");
    thin.set("oil", "10 psi").step();
    thin.set("oil", "20 psi");
    CHECK(thin.refusal() == "condition: oil is 20 psi, the condition requires 0 psi .. 10 psi");
    // Observers of a condition run at every scan.
    Bench keyed(text, "keyed");
    CHECK(keyed.refusal() == "condition: what keyed holds is false here");
    keyed.set("key", true).set("oil", "0 psi").step(2);
    CHECK(keyed.refusal() == "condition: what keyed holds is false here");
    keyed.set("oil", "1 psi").step();
}

TEST_CASE("guarded lines") {
    const std::string text =
        "'inputs': {'key': 'maintained'}, "
        "'quantities': {'clt': {'range': '0 .. 150 degC', 'follows': ["
        "{'when': 'NOT pump', 'changes': '0 .. 100 degC/s'}, "
        "{'when': 'clt > 100 degC', 'changes': '-50 .. 50 degC/s'}, "
        "{'when': 'pump', 'within': '0 .. 120 degC', 'under': 'healthy'}]}}, "
        "'outputs': {'pump': 'key'}";
    Bench b(text);
    b.set("clt", "90 degC").step();  // a change does not act at scan 0
    b.set("clt", "89.9 degC");
    CHECK(b.refusal() ==
          "guarded line: clt changes from 90 degC to 89.9 degC in one scan, one of its lines allows 0 K .. 1 K");
    b.set("clt", "91 degC").step();
    // The pump's power counts one scan later: `last`.
    b.set("key", true).set("clt", "90 degC");
    CHECK(b.refusal() != "");
    b.set("clt", "91 degC").step();
    b.set("clt", "130 degC").step();
    // Its own last value: above 100 degC now.
    b.set("clt", "130.6 degC");
    CHECK(b.refusal() != "");
    b.set("clt", "130.5 degC").step();
    Bench healthy(text, "healthy");
    healthy.set("key", true).set("clt", "121 degC").step();  // the pump had no power before
    CHECK(healthy.refusal().find("guarded line: clt is 121 degC, one of its lines requires 0 degC .. 120 degC") == 0);
}

TEST_CASE("free loads: under healthy what the engine fires with has power") {
    const std::string text =
        "'inputs': {'key': 'maintained'}, 'outputs': {'lamp': 'key'}, "
        "'engine': {'fires_with': ['inj'], 'cranks_with': 'starter', 'firing_time': '0 s'}";
    Bench any(text, "any");
    any.step();
    Bench healthy(text, "healthy");
    CHECK(healthy.refusal() ==
          "healthy: nothing in the model feeds inj, which the engine fires with; in a healthy engine it always has "
          "power");
    healthy.set("inj", true).step();
    healthy.set("starter", true).set(Mode::cranking).step();
    CHECK(healthy.interpreter().machine().state().engine.mode == Mode::cranking);
}

TEST_CASE("choices for another model are refused") {
    Bench b(engine());
    CHECK(b.interpreter().check(Choices{}).find("shape: ") == 0);
}
