// Cards of small models: what is set, what is expected, what is said not to be possible.
#include <catch2/catch.hpp>

#include "bench.hpp"
#include "report/card.hpp"
#include "sim/script.hpp"

using namespace lanyard::card;
using namespace lanyard::report;
using namespace lanyard::test;

namespace {

const CardDecision& decision(const Card& card, const std::string& name) {
    for (const auto& d : card.decisions)
        if (d.name == name) return d;
    FAIL("no decision " << name);
    return card.decisions.front();
}

std::vector<std::string> shown(const Card& card) {
    std::vector<std::string> out;
    for (const auto& s : card.steps) out.insert(out.end(), s.shows.begin(), s.shows.end());
    return out;
}

bool shows(const Card& card, const std::string& what) {
    const auto all = shown(card);
    return std::find(all.begin(), all.end(), what) != all.end();
}

std::vector<CardGap> gaps_of(const Card& card, GapKind kind) {
    std::vector<CardGap> out;
    for (const auto& g : card.gaps)
        if (g.kind == kind) out.push_back(g);
    return out;
}

// One output, made of five switches.
std::string of_switches(const std::string& on) {
    return R"json({"lanyard": 1, "name": "t", "inputs": {"a": {"switch": "maintained"}, "b": {"switch": "maintained"},
        "c": {"switch": "maintained"}, "d": {"switch": "maintained"}, "e": {"switch": "maintained"}},
        "outputs": {"x": {"on": ")json" +
           on + R"json(", "terminal": "C1"}, "y": {"on": "a OR b OR c OR d OR e"}}})json";
}

}  // namespace

// Sizes: tests/card/formula_test.cpp.
TEST_CASE("as few tests as the expression allows, all of them set and shown") {
    const std::vector<std::pair<std::string, std::size_t>> sizes{
        {"a AND b", 3}, {"(a OR b) AND (c OR d)", 4},     {"a AND b OR c", 4}, {"2 of (a, b, c)", 4},
        {"a XOR b", 3}, {"a AND b AND c AND d AND e", 6}, {"NOT a", 2}};
    for (const auto& [on, size] : sizes) {
        INFO(on);
        const Card card = card_of(of_switches(on));
        const CardDecision& d = decision(card, "x");
        CHECK(d.least == size);
        CHECK(d.tests.size() == size);
        CHECK(d.not_shown.empty());
        for (const auto& t : d.tests) CHECK(t.shown > 0);
        CHECK(card.gaps.empty());
    }
}

TEST_CASE("every expected value is what a script of the settings gives") {
    // No engine and an exact sensor: the model on the bench is the model.
    const Model m = model_from(R"json({"lanyard": 1, "name": "t", "quantities": {"heat": "0 .. 200 degC"},
        "inputs": {"key": {"switch": "maintained"}, "go": {"switch": "momentary"}, "sense": {"senses": "heat"}},
        "logic": {"hot": "band(sense, on > 100 degC, off < 90 degC)", "run": "RS(go, NOT key OR hot)"},
        "outputs": {"fan": {"on": "hot"}, "pump": {"on": "TOF(run, 1 s)"}}})json");
    const Card card = card_of(m);
    std::string csv = "time,key,go,heat\n";
    std::vector<std::string> now{"off", "off", "0 degC"};
    Rational time = 0;
    std::vector<long> ends;
    for (const auto& s : card.steps) {
        for (const auto& set : s.set) {
            const std::size_t column = set.what == "key" ? 0 : set.what == "go" ? 1 : 2;
            now[column] = set.to == "press and hold" ? "on" : set.to == "release" ? "off" : set.to;
        }
        csv += exact_text(time) + "," + now[0] + "," + now[1] + "," + now[2] + "\n";
        time += 3;
        ends.push_back(scans_up(time, m.scan) - 1);
    }
    csv += exact_text(time) + ",,,\n";
    const ScriptResult script = read_script(m, "card.csv", csv);
    INFO(render(script.diagnostics, script.source));
    REQUIRE(script.script);
    const ScriptRun run = play_script(m, *script.script, any_condition);
    std::size_t states = 0;
    for (std::size_t k = 0; k < card.steps.size(); ++k)
        for (const auto& r : card.steps[k].readings) {
            if (r.kind != LookKind::state) continue;
            ++states;
            const auto& scan = run.scans[ends[k]];
            INFO("step " << k + 1 << " " << r.where);
            CHECK(std::get<bool>(scan.signals[r.signal]) == r.is_on);
        }
    CHECK(states > 8);
}

// A little is the sensor's accuracy: that is our own choice (common practice).
TEST_CASE("thresholds: below, at, above, and the way back to the second one") {
    const Card card = card_of(R"json({"lanyard": 1, "name": "t", "quantities": {"heat": "0 .. 200 degC"},
        "inputs": {"sense": {"senses": "heat", "accuracy": "1 K"}, "key": {"switch": "maintained"}},
        "outputs": {"fan": {"on": "key AND band(sense, on > 100 degC, off < 90 degC)"}, "lamp": {"on": "sense >= 50 degC"}}})json");
    const std::string band = "fan: band(sense, on > 100 degC, off < 90 degC)";
    for (const char* what : {" at 99 degC is off", " at 100 degC is off", " at 101 degC is on", " at 91 degC is on",
                             " at 90 degC is on", " back at 89 degC is off"})
        CHECK(shows(card, band + what));
    for (const char* what : {" at 49 degC is off", " at 50 degC is on", " at 51 degC is on", " back at 49 degC is off"})
        CHECK(shows(card, std::string("lamp: sense >= 50 degC") + what));
    CHECK(card.thresholds == 10);
}

// IEC 61131-3, TON: PT 500 ms, scan 10 ms, IN from scan 0: Q first at scan 50. With the sample before and the output
// behind, up to two scans more.
TEST_CASE("a delay is what a stopwatch shows, scans included") {
    const Card card =
        card_of(R"json({"lanyard": 1, "name": "t", "scan": "10 ms", "inputs": {"key": {"switch": "maintained"}},
        "outputs": {"late": {"on": "TON(key, 500 ms)"}, "long": {"on": "TOF(key, 2.005 s)"}}})json");
    std::vector<std::string> times;
    for (const auto& s : card.steps)
        for (const auto& r : s.readings)
            if (r.kind == LookKind::stopwatch) times.push_back(r.where + " " + r.expected);
    CHECK(times == std::vector<std::string>{"late goes on after 0.5 .. 0.52 s", "long goes off after 2.01 .. 2.03 s"});
    CHECK(card.delays == 2);
}

TEST_CASE("a latch stays on by itself and is reset") {
    const Card card = card_of(R"json({"lanyard": 1, "name": "t", "inputs": {"trip": {"switch": "momentary"},
        "reset": {"switch": "momentary"}}, "logic": {"tripped": "SR(trip, reset)"}, "outputs": {"run": {"on": "NOT tripped"}}})json");
    CHECK(shows(card, "tripped: stays on by itself"));
    CHECK(shows(card, "tripped: is reset"));
    CHECK(card.latches == 2);
}

// What a loss of power does to memory: IEC 61131-3, RETAIN and cold restart; here help meaning, section 7.
TEST_CASE("a retained latch stays set while the power is away, any other is reset by it") {
    const Card card = card_of(R"json({"lanyard": 1, "name": "t", "inputs": {"breaker": {"switch": "maintained"},
        "low": {"switch": "momentary"}, "reset": {"switch": "momentary"}}, "supply": "breaker",
        "logic": {"told": "SR(low, FALSE)", "kept": {"is": "SR(low, reset)", "retained": true}},
        "outputs": {"pump": {"on": "NOT told"}, "lamp": {"on": "kept"}}})json");
    CHECK(shows(card, "told: stays on by itself"));
    CHECK(shows(card, "told: is off after a loss of power"));
    CHECK_FALSE(shows(card, "told: is reset"));
    CHECK(shows(card, "kept: is reset"));
    CHECK(shows(card, "kept: stays on through a loss of power"));
    CHECK(card.gaps.empty());
    // The breaker off and on again, and nothing else between.
    for (std::size_t k = 1; k < card.steps.size(); ++k)
        for (const auto& what : card.steps[k].shows) {
            if (what.find("the power") == std::string::npos) continue;
            REQUIRE(card.steps[k].set.size() == 1);
            REQUIRE(card.steps[k - 1].set.size() == 1);
            CHECK(card.steps[k - 1].set[0].what + " " + card.steps[k - 1].set[0].to == "breaker off");
            CHECK(card.steps[k].set[0].what + " " + card.steps[k].set[0].to == "breaker on");
            const bool lamp = what.starts_with("kept");
            for (const auto& r : card.steps[k].readings)
                if (r.where == (lamp ? "lamp" : "pump")) CHECK(r.is_on);
        }
}

TEST_CASE("a combination that thresholds exclude is proved impossible, with a certificate") {
    const Card card = card_of(R"json({"lanyard": 1, "name": "t", "quantities": {"speed": "0 .. 9000 rpm"},
        "inputs": {"revs": {"senses": "speed"}, "key": {"switch": "maintained"}},
        "outputs": {"x": {"on": "(revs > 500 rpm AND revs < 30 rpm) OR key"}}})json");
    const CardDecision& d = decision(card, "x");
    CHECK(d.not_shown == std::vector<std::string>{"revs > 500 rpm", "revs < 30 rpm"});
    // That neither threshold shows anywhere then is said besides.
    const auto excluded = gaps_of(card, GapKind::impossible);
    REQUIRE_FALSE(excluded.empty());
    for (const auto& g : excluded) {
        CHECK(g.what == "revs > 500 rpm on, revs < 30 rpm on");
        CHECK(g.why.find("certificate was checked") != std::string::npos);
    }
    CHECK(gaps_of(card, GapKind::undecided).empty());
    CHECK(gaps_of(card, GapKind::in_passing).empty());
}

// IEC 61131-3, TP: Q is on for PT from the rising edge of IN.
TEST_CASE("what is there only while a pulse runs is shown by the stopwatch that shows its length") {
    const Card card = card_of(R"json({"lanyard": 1, "name": "t", "inputs": {"key": {"switch": "maintained"},
        "arm": {"switch": "maintained"}}, "outputs": {"prime": {"on": "arm AND TP(key, 3 s)", "terminal": "C1"}}})json");
    CHECK(card.gaps.empty());
    const CardDecision& d = decision(card, "prime");
    CHECK(d.tests.size() == 3);
    CHECK(d.not_shown.empty());
    bool timed = false, dark = false;
    for (const auto& t : d.tests) {
        CHECK(t.passing == (t.conditions.find("TP(key, 3 s) on") != std::string::npos));
        for (const auto& r : card.steps[t.step - 1].readings) {
            timed = timed || (t.passing && t.outcome && r.expected == "goes off after 3 .. 3.02 s");
            dark = dark ||
                   (t.passing && !t.outcome && r.expected == "off" && r.remark == "all the while, from the setting on");
        }
    }
    CHECK(timed);
    CHECK(dark);
}

TEST_CASE("what only passes too soon for a stopwatch is said to pass, and not called impossible") {
    const Card card = card_of(R"json({"lanyard": 1, "name": "t", "inputs": {"key": {"switch": "maintained"},
        "arm": {"switch": "maintained"}}, "outputs": {"prime": {"on": "arm AND TP(key, 50 ms)"}}})json");
    REQUIRE_FALSE(card.gaps.empty());
    for (const auto& g : card.gaps) CHECK(g.kind == GapKind::in_passing);
}

TEST_CASE("without work for the provers what was not found is undecided") {
    DriverOptions none = usual_limits();
    none.work_limit = 1'000;  // enough to search
    const Model m = model_from(R"json({"lanyard": 1, "name": "t", "quantities": {"speed": "0 .. 9000 rpm"},
        "inputs": {"revs": {"senses": "speed"}, "key": {"switch": "maintained"}},
        "outputs": {"x": {"on": "(revs > 500 rpm AND revs < 30 rpm) OR key"}}})json");
    const Card card = make_card(m, none);
    CHECK_FALSE(gaps_of(card, GapKind::undecided).empty());
    CHECK(gaps_of(card, GapKind::impossible).empty());
}

TEST_CASE("what the limits cut off is said to be open, with the limit as its reason") {
    const Model m = model_from(of_switches("a AND b AND c AND d AND e"));
    for (const std::uint64_t work : {1, 100, 300}) {
        DriverOptions little = usual_limits();
        little.work_limit = work;
        const Card card = make_card(m, little);
        INFO("work " << work);
        // Six tests of each of both outputs; of less not every condition is shown.
        for (const auto& d : card.decisions) CHECK((d.tests.size() >= 6 || !d.not_shown.empty()));
        const auto open = gaps_of(card, GapKind::not_found);
        REQUIRE_FALSE(open.empty());
        for (const auto& g : open) CHECK(g.why == "the work limit was reached");
        CHECK(card_text(m, make_card(m, little), {}) == card_text(m, card, {}));
        if (work > 1) continue;
        CHECK(card.steps.empty());
        CHECK(card.why_empty == "the work limit was reached before a setting was found that shows anything");
    }
}

TEST_CASE("a model of which nothing can be set or seen has no card, and it is said why") {
    const std::string head = R"json({"lanyard": 1, "name": "t", )json";
    const std::string go = R"json("inputs": {"go": {"switch": "momentary"}}, )json";
    const auto why = [&](const std::string& rest) {
        const Card card = card_of(head + rest);
        CHECK(card.steps.empty());
        REQUIRE(card.gaps.size() == 1);
        CHECK(card.gaps[0].kind == GapKind::not_found);
        CHECK(card.gaps[0].why == card.why_empty);
        return card.why_empty;
    };
    CHECK(why(R"json("logic": {"b": "NOT previous(b)"}, "outputs": {"x": {"on": "b"}}})json") ==
          "nothing in this model can be set");
    CHECK(why(go + R"json("logic": {"x": "NOT go"}})json") ==
          "there is nothing to look at: the model has no output and no load");
    CHECK(why(go + R"json("logic": {"b": "NOT previous(b)"}, "outputs": {"x": {"on": "b AND go"}}})json") ==
          "something keeps changing for ever, whichever single thing is set");
}

TEST_CASE("a wire that is read back is pulled off and fed") {
    const Card card = card_of(R"json({"lanyard": 1, "name": "t", "inputs": {"key": {"switch": "maintained"},
        "loop": {"reads_back": "permit", "terminal": "B6"}},
        "outputs": {"permit": {"on": "key"}, "spark": {"on": "loop AND key"}}})json");
    CHECK(decision(card, "spark").tests.size() == 3);
    CHECK(card.gaps.empty());
    bool off = false, fed = false;
    for (const auto& s : card.steps)
        for (const auto& set : s.set) {
            off = off || (set.what == "loop" && set.to == "plug off" && set.terminal == "B6");
            fed = fed || (set.what == "loop" && set.to == "fed by hand");
        }
    CHECK(off);
    CHECK(fed);
}

TEST_CASE("it begins and ends at rest, and says how to be safe") {
    const Card card =
        card_of(R"json({"lanyard": 1, "name": "t", "inputs": {"master": {"switch": "maintained", "rests": "on"},
        "key": {"switch": "maintained"}}, "supply": "master", "outputs": {"pump": {"on": "key"}, "fan": {"on": "NOT key"}}})json");
    CHECK(card.stop == "master off");
    CHECK(card.on_at_rest == std::vector<std::string>{"fan"});
    std::map<std::string, std::string> now;
    for (const auto& s : card.rest) now[s.what] = s.to;
    const auto rest = now;
    for (const auto& s : card.steps)
        for (const auto& set : s.set) now[set.what] = set.to;
    CHECK(now == rest);
}

TEST_CASE("cautions stand where something gets power") {
    const Card card = card_of(R"json({"lanyard": 1, "name": "t", "inputs": {"go": {"switch": "momentary"}},
        "outputs": {"crank": {"on": "go", "feeds": "starter"}, "spark": {"on": "go", "feeds": "coils"}},
        "engine": {"fires_with": ["coils"], "cranks_with": "starter"}})json");
    REQUIRE_FALSE(card.steps.empty());
    CHECK(card.steps[0].cautions == std::vector<std::string>{"starter turns the engine unless it is disconnected",
                                                             "fuel and spark: coils live",
                                                             "what is fed by crank, spark may start, move or get hot"});
    CHECK(card.steps.back().cautions.empty());
}

TEST_CASE("a quantity that the logic reads without a sensor is set like one, whatever the engine does") {
    const Card card = card_of(R"json({"lanyard": 1, "name": "t", "inputs": {"key": {"switch": "maintained"}},
        "outputs": {"crank": {"on": "key AND engine_speed < 400 rpm", "feeds": "starter"}},
        "engine": {"cranks_with": "starter"}})json");
    CHECK(card.gaps.empty());
    CHECK(decision(card, "crank").tests.size() == 3);
    CHECK(shows(card, "crank: engine_speed < 400 rpm at 400 rpm is off"));
}
