// Monitors of claims, and the procedure's driver.
#include "bench.hpp"
#include "sim/machine.hpp"

using namespace lanyard::sim;
using namespace lanyard::test;

namespace {

// Scans with the premise until the first violation, -1: none within 1000.
long first_violation(const std::string& logic, const std::string& claim) {
    Bench b("'inputs': {'low': 'maintained'}, 'outputs': {'inj': '" + logic + "'}, 'claims': {'c': " + claim + "}",
            "any", ClaimId(0));
    b.step();
    b.set("low", true);
    for (long n = 1; n <= 1000; ++n) {
        if (b.step().violated) return n;
    }
    return -1;
}

}  // namespace

TEST_CASE("response: delays against the rule within 500 ms") {
    // Computed independently (arithmetic): scan 10 ms, PT 480 ms is met (500 ms exactly), 485 (510) and 500 (520) not.
    const std::string rule = "{'whenever': 'low', 'then': 'NOT inj', 'within': '500 ms'}";
    CHECK(first_violation("NOT TON(low, 480 ms)", rule) == -1);
    CHECK(first_violation("NOT TON(low, 485 ms)", rule) == 49);
    CHECK(first_violation("NOT TON(low, 500 ms)", rule) == 49);
    // House rule of 1 s with two delays of half a second each: met within 1.02 s, neither 1.00 nor 1.01 s.
    const std::string chain = "NOT TON(TON(low, 0.5 s), 0.5 s)";
    CHECK(first_violation(chain, "{'whenever': 'low', 'then': 'NOT inj', 'within': '1.00 s'}") == 99);
    CHECK(first_violation(chain, "{'whenever': 'low', 'then': 'NOT inj', 'within': '1.01 s'}") == 100);
    CHECK(first_violation(chain, "{'whenever': 'low', 'then': 'NOT inj', 'within': '1.02 s'}") == -1);
    // `for` and `within` add up.
    CHECK(first_violation("NOT TON(low, 480 ms)",
                          "{'whenever': 'low', 'for': '0.3 s', 'then': 'NOT inj', 'within': '0.2 s'}") == -1);
    // A bound that no controller can meet is broken where its premise comes true, whatever the output does.
    CHECK(first_violation("NOT low", "{'whenever': 'low', 'then': 'NOT inj', 'within': '15 ms'}") == 1);
}

TEST_CASE("response: demanded only at the bound, the premise without a break") {
    Bench b(
        "'inputs': {'low': 'maintained'}, 'outputs': {'inj': 'NOT low'}, "
        "'claims': {'c': {'whenever': 'low', 'then': 'NOT inj', 'within': '50 ms'}}",
        "any", ClaimId(0));
    const auto demanded = [&](const std::string& sequence) {
        std::string text;
        for (const char c : sequence) {
            b.set("low", c == '1');
            text += b.step().demanded ? '1' : '0';
        }
        return text;
    };
    CHECK(demanded("011101111110") == "000000001110");  // bound 4
}

TEST_CASE("always: what it demands") {
    const std::string text =
        "'inputs': {'a': 'maintained', 'b': 'maintained'}, 'outputs': {'q': 'a'}, "
        "'claims': {'plain': {'always': 'NOT (a AND b)'}, 'arrow': {'always': 'a -> NOT b'}, "
        "'goal': {'possible': 'a AND b'}}";
    for (const ClaimId claim : {ClaimId(0), ClaimId(1)}) {
        Bench b(text, "any", claim);
        Scan s = b.step();
        CHECK(s.demanded == (claim == ClaimId(0)));
        CHECK(!s.violated);
        s = b.set("a", true).step();
        CHECK(s.demanded);
        s = b.set("b", true).step();
        CHECK(s.violated);
    }
    Bench possible(text, "any", ClaimId(2));
    CHECK(!possible.step().goal);
    CHECK(possible.set("a", true).set("b", true).step().goal);
}

namespace {

std::string procedure(const std::string& steps, const std::string& goal, const std::string& within = "") {
    return "'inputs': {'key': 'maintained', 'start': 'momentary', 'x': 'maintained'}, "
           "'outputs': {'lamp': 'TON(start, 20 ms)'}, "
           "'claims': {'p': {'procedure': [" +
           steps + "], 'ends_with': '" + goal + "', " + (within.empty() ? "" : "'within': '" + within + "', ") +
           "'under': 'any'}}";
}

// Follows the driver for some scans; "k" key on, "s" start on, "." neither, "b" both.
std::string followed(Bench& b, long scans) {
    std::string text;
    for (long n = 0; n < scans; ++n) {
        const auto hand = [&](std::size_t index) { return b.interpreter().machine().driven(SwitchId(index)); };
        REQUIRE(hand(0));
        const bool key = *hand(0), start = *hand(1), x = *hand(2);
        b.set("key", key).set("start", start).set("x", x);
        b.step();
        text += key ? (start ? 'b' : 'k') : (start ? 's' : '.');
    }
    return text;
}

}  // namespace

TEST_CASE("procedure: the driver's positions") {
    Bench b(procedure("'set key', 'wait 30 ms', 'hold start for 20 ms', 'wait 10 ms'", "lamp"), "any", ClaimId(0));
    b.set("key", false);
    CHECK(b.refusal() == "driver: the procedure has key on here, the run has it off");
    CHECK(followed(b, 8) == "kkkbbkkk");
}

TEST_CASE("procedure: hold until, with a reaction time, at most a limit") {
    // `lamp` is on from the third scan of holding on; reaction 10 .. 30 ms.
    const std::string steps = "'hold start until lamp, at most 1 s, reacts in 10 .. 30 ms'";
    // e counts scans since the lamp was seen: may be the last with e P > 10 ms, must with (e - 1) P >= 30 ms.
    Bench early(procedure(steps, "lamp"), "any", ClaimId(0));
    early.move_on(true);
    CHECK(followed(early, 6) == "ssss..");
    Bench late(procedure(steps, "lamp"), "any", ClaimId(0));
    CHECK(followed(late, 8) == "ssssss..");
    Bench limited(procedure("'hold start until x, at most 50 ms'", "lamp"), "any", ClaimId(0));
    CHECK(followed(limited, 7) == "sssss..");
    // The default reaction: at once to 0.5 s.
    Bench usual(procedure("'hold start until lamp, at most 10 s'", "lamp"), "any", ClaimId(0));
    usual.move_on(true);
    CHECK(followed(usual, 4) == "sss.");
    Bench slow(procedure("'hold start until lamp, at most 10 s'", "lamp"), "any", ClaimId(0));
    CHECK(followed(slow, 54) == std::string(53, 's') + ".");
}

TEST_CASE("procedure: judged at the first scan behind the last step") {
    // The goal counts from the first scan of the last phase on.
    Bench good(procedure("'wait 20 ms', 'hold start for 30 ms'", "lamp"), "any", ClaimId(0));
    followed(good, 5);
    Scan s = good.set("start", false).step();
    CHECK(s.demanded);
    CHECK(s.goal);
    CHECK(!s.violated);
    CHECK(!good.step().demanded);

    Bench bad(procedure("'hold start for 30 ms', 'wait 20 ms'", "lamp"), "any", ClaimId(0));
    followed(bad, 5);
    s = bad.step();
    CHECK(s.demanded);
    CHECK(s.violated);  // the lamp was on, but before the last step began
}

TEST_CASE("procedure: judged at a deadline") {
    // 55 ms: scan 5. The lamp is on from scan 4 on.
    const std::string steps = "'wait 20 ms', 'hold start for 1 s'";
    Bench b(procedure(steps, "lamp", "55 ms"), "any", ClaimId(0));
    followed(b, 5);
    const Scan s = b.step();
    CHECK(s.demanded);
    CHECK(!s.violated);
    Bench tight(procedure(steps, "lamp", "35 ms"), "any", ClaimId(0));
    followed(tight, 2);
    CHECK(!tight.set("start", true).step().demanded);
    CHECK(tight.step().violated);
    // A deadline before the last step began cannot be met.
    Bench early(procedure("'wait 50 ms', 'wait 50 ms'", "key OR NOT key", "20 ms"), "any", ClaimId(0));
    followed(early, 2);
    CHECK(early.step().violated);
}

TEST_CASE("replay tells the first broken rule and its scan") {
    const auto m = shared_model(
        "'inputs': {'key': 'maintained'}, 'quantities': {'v': '0 .. 16 V'}, "
        "'outputs': {'q': 'key'}, 'claims': {'c': {'always': 'v < 10 V'}}");
    Choices c;
    c.positions = {true};
    c.missed = {false};
    c.quantities = {Rational(0)};
    c.free_loads.resize(m->loads.size());
    Segment s;
    s.scans = 5;
    s.first = c;
    s.last_quantities = {Rational(12)};  // 0, 3, 6, 9, 12
    const Replay good = replay(*m, Run{{s}}, any_condition, ClaimId(0));
    CHECK(good.legal);
    CHECK(good.violated_at_end);
    REQUIRE(good.scans.size() == 5);
    CHECK(!good.scans[3].violated);
    CHECK(std::get<Rational>(good.scans[3].signals[signal(*m, "v")]) == 9);
    s.last_quantities = {Rational(20)};
    const Replay bad = replay(*m, Run{{s}}, any_condition, ClaimId(0));
    CHECK(!bad.legal);
    CHECK(bad.broken_at == 4);
    CHECK(bad.broken.find("scan 4 (") == 0);
    CHECK(bad.broken.find("range: v is 20 V, its range is 0 V .. 16 V") != std::string::npos);
}
