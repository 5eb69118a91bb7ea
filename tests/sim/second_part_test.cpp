// Claims with a second part: a procedure that begins where `from` is true, and recoverable. When it may begin, what
// the driver does from then on, which condition is obeyed, and what has to be reached by when.
#include "bench.hpp"
#include "sim/machine.hpp"
#include "traces.hpp"

using namespace lanyard::sim;
using namespace lanyard::test;

namespace {

// Two quantities as two truths that no driver touches.
const std::string world =
    "'inputs': {'key': 'maintained', 'start': 'momentary', 'other': {'switch': 'maintained', 'rests': 'on'}}, "
    "'quantities': {'v': '0 .. 2 V', 'w': '0 .. 2 V'}, 'outputs': {'lamp': 'key AND start AND other'}, ";

std::shared_ptr<const Model> with_claim(const std::string& claim) {
    return shared_model(world + "'claims': {'c': {" + claim + "}}");
}

struct Play {
    const Model& model;
    Interpreter interpreter;
    Choices c;

    explicit Play(const Model& m) : model(m), interpreter(m, m.claims.front().condition, ClaimId(0)) {
        c.positions = {false, false, false};
        c.missed = {false, false, false};
        c.free_loads.resize(m.loads.size());
    }
    // Where the claim has the three switches, "-" where it says nothing.
    std::string hands() const {
        std::string out;
        for (const SwitchId s : model.switches.ids()) {
            const auto hand = interpreter.machine().driven(s);
            out += !hand ? '-' : *hand ? '1' : '0';
        }
        return out;
    }
    Scan step(bool v, bool w, bool moves_on) {
        for (const SwitchId s : model.switches.ids())
            if (const auto hand = interpreter.machine().driven(s)) c.positions[s] = *hand;
        c.quantities = {Rational(v ? 2 : 0), Rational(w ? 2 : 0)};
        c.claim_moves_on = moves_on;
        Scan s = interpreter.step(c);
        if (!s.broken_rule.empty()) FAIL(s.broken_rule);
        return s;
    }
};

}  // namespace

TEST_CASE("procedure from a state: begins behind a scan with it, and counts from its first step") {
    // Steps of 2, 1 and 2 scans. The goal counts from the beginning of the last one to the scan behind it, or to the
    // deadline, whose time is 0 at the first scan of the first step.
    const std::string steps =
        "'procedure': ['set key', 'wait 20 ms', 'hold start for 10 ms', 'wait 20 ms'], 'ends_with': 'v > 1 V', "
        "'from': 'w > 1 V', 'under': 'any'";
    for (const long within : {none, 30L, 47L, 10L}) {
        const auto model =
            with_claim(steps + (within == none ? "" : ", 'within': '" + std::to_string(within) + " ms'"));
        constexpr long length = 10;
        for (const long begin : {0L, 1L, 3L}) {
            const long first = begin + 1, last_step = first + 3;
            const long judged = within == none ? first + 5 : first + within / 10;
            long broken = 0;
            for (unsigned long word = 0; word < 1UL << length; ++word) {
                const Trace v = bits(word, length);
                Play play(*model);
                long violated = none, demanded = none;
                std::string hands;
                for (long n = 0; n < length; ++n) {
                    hands += play.hands() + ' ';
                    // Where `from` is false nothing begins, whatever the choice says.
                    const Scan s = play.step(v[static_cast<std::size_t>(n)], n == begin, true);
                    if (s.violated && violated == none) violated = n;
                    if (s.demanded && demanded == none) demanded = n;
                }
                const bool met = any(v, last_step, judged);
                std::string expected;
                for (long n = 0; n < length; ++n) expected += n < first ? "--- " : n - first == 2 ? "111 " : "101 ";
                if (demanded != judged || violated != (met ? none : judged) || hands != expected) {
                    CAPTURE(within, begin, text(v), hands);
                    CHECK(hands == expected);
                    CHECK(demanded == judged);
                    CHECK(violated == (met ? none : judged));
                }
                if (!met) ++broken;
            }
            CHECK(broken > 0);
        }
    }
}

TEST_CASE("procedure from a state: need not begin") {
    const auto model = with_claim("'procedure': ['wait 20 ms'], 'ends_with': 'v > 1 V', 'from': 'w > 1 V'");
    Play play(*model);
    for (int n = 0; n < 20; ++n) {
        const Scan s = play.step(false, true, false);
        CHECK(!s.demanded);
        CHECK(play.hands() == "---");
    }
    play.step(false, true, true);
    CHECK(play.hands() == "001");  // no step names them: at rest
}

TEST_CASE("procedure from a state: waits until, reacts within an interval") {
    // Seen first at scan number s of the step: ends at s + 1 or s + 2, in any case at 5.
    const auto model = with_claim(
        "'procedure': ['hold start until v > 1 V, at most 50 ms, reacts in 10 .. 20 ms'], 'ends_with': 'lamp', "
        "'from': 'w > 1 V', 'under': 'any'");
    constexpr long length = 6;
    for (unsigned long word = 0; word < 1UL << length; ++word)
        for (unsigned long choice = 0; choice < 1UL << length; ++choice) {
            const Trace v = bits(word, length), moves = bits(choice, length);
            Play play(*model);
            play.step(false, true, true);
            long lasted = 0;
            while (play.hands() == "011" && lasted < length) {
                play.step(v[static_cast<std::size_t>(lasted)], false, moves[static_cast<std::size_t>(lasted)]);
                ++lasted;
            }
            long expected = 5;
            for (long s = 1; s <= 5; ++s) {
                if (!v[static_cast<std::size_t>(s - 1)]) continue;
                expected = std::min(expected, s < 5 && moves[static_cast<std::size_t>(s)] ? s + 1 : s + 2);
                break;
            }
            if (lasted != expected) {
                CAPTURE(text(v), text(moves));
                CHECK(lasted == expected);
            }
        }
}

TEST_CASE("recoverable: begins behind any scan, and its goal counts from the next one to the end of its time") {
    for (const long within : {none, 30L, 39L, 10L, 5L}) {
        const auto model =
            with_claim("'recoverable': 'v > 1 V', 'under': 'any'" +
                       (within == none ? std::string() : ", 'within': '" + std::to_string(within) + " ms'"));
        constexpr long length = 7;
        for (long begin = 0; begin < length; ++begin)
            for (unsigned long word = 0; word < 1UL << length; ++word) {
                const Trace v = bits(word, length);
                Play play(*model);
                std::string goals, expected, demands, demanded;
                for (long n = 0; n < length; ++n) {
                    const Scan s = play.step(v[static_cast<std::size_t>(n)], false, n == begin);
                    const bool in_time = n > begin && (within == none || (n - begin) * 10 <= within);
                    goals += s.goal ? '1' : '0';
                    expected += in_time && v[static_cast<std::size_t>(n)] ? '1' : '0';
                    demands += s.demanded ? '1' : '0';
                    demanded += n > begin ? '1' : '0';
                }
                if (goals != expected || demands != demanded) {
                    CAPTURE(within, begin, text(v));
                    CHECK(goals == expected);
                    CHECK(demands == demanded);
                }
            }
    }
}

TEST_CASE("recoverable: switches that may not be moved stay where they were") {
    const auto hands_of = [](const std::string& more) {
        const auto model = with_claim("'recoverable': 'v > 1 V', 'under': 'any'" + more);
        Play play(*model);
        CHECK(play.hands() == "---");
        play.c.positions = {true, false, true};
        play.step(false, false, false);
        CHECK(play.hands() == "---");
        play.c.positions = {false, true, false};
        play.step(false, false, true);
        const std::string now = play.hands();
        if (now[1] == '-') play.c.positions[SwitchId(1)] = false;
        play.step(false, false, false);
        return now + " " + play.hands();
    };
    CHECK(hands_of("") == "--- ---");
    CHECK(hands_of(", 'hands_off': true") == "010 010");
    CHECK(hands_of(", 'may_move': ['key']") == "-10 -10");
    CHECK(hands_of(", 'may_move': ['start', 'key']") == "--0 --0");
    // And the run that moves one of them is none.
    const auto model = with_claim("'recoverable': 'v > 1 V', 'under': 'any', 'may_move': ['key']");
    Play play(*model);
    play.step(false, false, true);
    Choices c = play.c;
    c.quantities = {Rational(0), Rational(0)};
    c.positions = {true, false, false};
    CHECK(play.interpreter.check(c).empty());
    c.positions = {true, true, false};
    CHECK(play.interpreter.check(c) == "driver: nobody touches start, which was off here, the run has it on");
}

namespace {

// Fires with `inj`, cranked by `starter`; 10 ms.
std::string engine_with(const std::string& claim) {
    return "'inputs': {'key': 'maintained', 'start': 'momentary'}, "
           "'quantities': {'turns': '0 .. 9000 rpm', 'oil': {'range': '0 .. 100 psi', 'healthy': {'running': "
           "{ 'within': '20 .. 80 psi', 'after': '50 ms', 'before': '0 .. 80 psi' }, 'stopped': '0 .. 2 psi', "
           "'coasting': '0 .. 100 psi', "
           "'cranking': '0 .. 100 psi'}}}, "
           "'outputs': {'inj': 'key', 'starter': 'start'}, "
           "'engine': {'fires_with': ['inj'], 'cranks_with': 'starter', 'speed': 'turns', 'oil_pressure': 'oil', "
           "'firing_time': '30 .. 50 ms', 'coast_down': '20 .. 40 ms', 'catches_above': '400 rpm'}, "
           "'conditions': {'key_on': {'holds': 'key'}}, 'claims': {'c': {" +
           claim + "}}";
}

Bench bench_of(const std::string& claim) {
    auto model = shared_model(engine_with(claim));
    const std::string condition = model->conditions[model->claims.front().condition].name;
    return Bench(std::move(model), condition, ClaimId(0));
}

Bench& cranking_on(Bench& b, long scans) {
    b.set("key", true).set("start", true).set("turns", "0 rpm").set(Mode::cranking).step();
    b.set("turns", "200 rpm");
    return b.step(scans), b;
}

}  // namespace

TEST_CASE("two conditions: the first until the scan behind which it begins, the second from the next on") {
    // Healthy is the second one by default, any the first.
    Bench b = bench_of("'recoverable': 'inj'");
    b.set("oil", "50 psi").step(3);
    b.move_on(true).step();
    CHECK(b.refusal() == "healthy: oil is 50 psi while the engine is stopped, healthy is 0 psi .. 2 psi");
    b.set("oil", "2 psi").move_on(false).step();

    // Named the other way round: healthy first, then any.
    Bench turned = bench_of("'recoverable': 'inj', 'reached_under': 'healthy', 'under': 'any'");
    turned.set("oil", "50 psi");
    CHECK(turned.refusal() == "healthy: oil is 50 psi while the engine is stopped, healthy is 0 psi .. 2 psi");
    turned.set("oil", "0 psi").move_on(true).step();
    turned.set("oil", "50 psi").step();

    // What a condition holds: only in its part.
    Bench held = bench_of("'recoverable': 'inj', 'reached_under': 'key_on', 'under': 'any'");
    CHECK(held.refusal() == "condition: what key_on holds is false here");
    held.set("key", true).step();
    CHECK(held.set("key", false).refusal() == "condition: what key_on holds is false here");
    held.set("key", true).move_on(true).step();
    held.set("key", false).step();
    Bench second = bench_of("'recoverable': 'inj', 'under': 'key_on'");
    second.step(2);
    second.move_on(true).step();
    CHECK(second.refusal() == "condition: what key_on holds is false here");
    second.set("key", true).step();

    // The same of a procedure with "from".
    Bench steps = bench_of(
        "'procedure': ['set key', 'wait 50 ms'], 'ends_with': 'inj', 'from': 'oil > 20 psi', 'reached_under': 'any'");
    steps.set("oil", "50 psi").set("start", false).move_on(true).step();
    CHECK(steps.set("key", true).refusal().find("healthy: oil is 50 psi") == 0);
    CHECK(steps.set("key", false).set("oil", "0 psi").refusal() ==
          "driver: the procedure has key on here, the run has it off");
    steps.set("key", true).step();
}

TEST_CASE("two conditions: a healthy engine's clocks are carried over") {
    const std::string claim = "'recoverable': 'engine = stopped'";
    {  // Coasting for 100 ms under any; healthy stands still within 40.
        Bench b = bench_of(claim);
        cranking_on(b, 2).set(Mode::running).step();
        b.set("turns", "900 rpm").set("start", false).set("key", false).set(Mode::coasting).step();
        b.step(9);
        CHECK(followers(b) == "so");
        b.move_on(true).step();
        CHECK(followers(b) == "s");
    }
    {  // Coasting for a scan: the rest of the time is still to come.
        Bench b = bench_of(claim);
        cranking_on(b, 2).set(Mode::running).step();
        b.set("turns", "900 rpm").set("start", false).set("key", false).set(Mode::coasting).step();
        b.move_on(true).step();
        CHECK(followers(b) == "so");
        b.set(Mode::coasting).step(2);
        CHECK(followers(b) == "s");
    }
    {  // Cranked for long under any without firing: a healthy one fires at once.
        Bench b = bench_of(claim);
        cranking_on(b, 20);
        CHECK(followers(b) == "cr");
        b.set(Mode::cranking).move_on(true).step();
        CHECK(followers(b) == "r");
    }
    {  // The band of running counts from the firing, not from where the second condition begins.
        Bench b = bench_of(claim);
        b.set("oil", "0 psi");
        cranking_on(b, 2).set(Mode::running).step();
        b.set("turns", "900 rpm").set("start", false).step(4);
        b.move_on(true).step();
        CHECK(b.refusal().find("healthy: oil is 0 psi while the engine is running") == 0);
        b.set("oil", "30 psi").step();
    }
    {  // Firing is at scan 0 of the band's count; begun early, the build-up is still allowed.
        Bench b = bench_of(claim);
        b.set("oil", "0 psi");
        cranking_on(b, 2).set(Mode::running).step();
        b.set("turns", "900 rpm").set("start", false).move_on(true).step();
        CHECK(b.refusal().empty());
        b.step(3);
        CHECK(b.refusal().empty());
        b.step();
        CHECK(b.refusal().find("healthy: oil is 0 psi while the engine is running") == 0);
    }
}
