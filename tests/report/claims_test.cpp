// Stories of claims that are more than one condition: responses that stay owed, totals, change limits, drivers who
// begin anywhere, traps; and the word that a claim was written with.
#include <catch2/catch.hpp>

#include "report/json.hpp"
#include "report/story.hpp"
#include "report/terminal.hpp"
#include "support.hpp"

using namespace lanyard::report;
using namespace lanyard::test;

namespace {

std::string told(const Model& m, const ClaimResult& r) {
    const FilmedResult filmed(m, r);
    return story_heading(m, r) + '\n' + story(filmed) + "summary       " + summary(filmed) + '\n';
}

// On one line, for words that may fall on two.
std::string flat(const std::string& text) {
    std::string out;
    for (const char c : text)
        if ((c != ' ' && c != '\n') || (!out.empty() && out.back() != ' ')) out += c == '\n' ? ' ' : c;
    return out;
}

const std::string& wagtail() {
    static const std::string text = R"json({
  "lanyard": 1,
  "name": "Wagtail, sprint car",
  "inputs": {
    "key": "maintained",
    "kill": "momentary",
    "reset": "momentary",
    "coolant": { "senses": "coolant_temperature" }
  },
  "logic": {
    "hot": "coolant > 110 degC",
    "tripped": "SR(hot, R_TRIG(reset) AND NOT latched)",
    "latched": "SR(previous(tripped), FALSE)",
    "cooled": "band(coolant, on > 90 degC, off < 40 degC)"
  },
  "outputs": {
    "injectors": "key AND NOT TON(kill, 60 ms) AND NOT tripped",
    "fan": "cooled"
  },
  "claims": {
    "short press": { "once": "kill", "for": "30 ms", "then": "NOT injectors", "within": "30 ms" },
    "any press": { "once": "kill", "then": "NOT injectors", "within": "40 ms" },
    "too fast": { "once": "kill", "then": "NOT injectors", "within": "10 ms" },
    "flicker": { "whenever": "kill", "for": "30 ms", "out_of": "80 ms", "then": "NOT injectors", "within": "40 ms" },
    "no chatter": { "no_chatter": "injectors", "at_most": 1, "in_any": "0.1 s" },
    "much chatter": { "changes": "injectors", "at_most": 11, "in_any": "1 s" },
    "comes back": {
      "procedure": ["clear key", "wait 50 ms", "hold reset until injectors, at most 0.2 s", "set key", "wait 50 ms"],
      "from": "tripped", "ends_with": "injectors", "reached_under": "any", "under": "any"
    },
    "in time": {
      "procedure": ["set key", "hold reset until coolant < 50 degC, at most 0.2 s"],
      "from": "tripped", "within": "0.1 s", "ends_with": "injectors", "under": "any"
    },
    "no lock-out": { "no_lock_out": "injectors", "may_move": ["key"], "under": "any" },
    "with reset": { "recoverable": "injectors", "under": "any" },
    "by itself": { "recoverable": "NOT fan", "hands_off": true, "under": "any" }
  }
}
)json";
    return text;
}

Certificate closed_set(Facts facts) {
    Certificate c;
    c.facts = std::move(facts);
    c.elements = {"injectors", "latched", "tripped"};
    return c;
}

SignalId signal_named(const Model& m, const std::string& name) {
    for (const SignalId id : m.signals.ids())
        if (m.name_of(id) == name) return id;
    FAIL("no signal " << name);
    return {};
}

// The n-th element of its kind in a line, from 0.
ElementId element_of(const Model& m, const std::string& line, Op op, std::size_t n = 0) {
    std::vector<ElementId> all;
    visit(definition(m, signal_named(m, line)), [&](const Expr& e) {
        if (e.op == op) all.push_back(e.element);
    });
    REQUIRE(n < all.size());
    return all[n];
}
// That the one bit of such an element is fixed.
std::pair<const StateKey, bool> memory(const Model& m, const std::string& line, Op op, std::size_t n = 0,
                                       bool on = true) {
    return {{StateRole::remembered, element_of(m, line, op, n)}, on};
}

// Tripped at 0.02 s, and from 0.05 s on nothing leads back.
std::string trap(const Model& m, const std::string& claim, std::map<StateKey, bool> fixed) {
    Playing p(m, claim);
    p.set("coolant_temperature", "80 degC").set("key", true).scans(2);
    p.set("coolant_temperature", "120 degC").scans(3).moves_on().scans(1);
    return told(m, result(m, claim, Refuted{p.run(), closed_set({std::move(fixed), {}}), ""}));
}

}  // namespace

TEST_CASE("a response that is owed once it has been called for") {
    const Model m = model_from(wagtail());
    Playing p(m, "short press");
    p.set("key", true).set("coolant_temperature", "80 degC").scans(2).set("kill", true).scans(3).set("kill", false);
    std::string text = told(m, p.until_broken(20).refuted());
    Playing q(m, "any press");
    q.set("key", true).set("coolant_temperature", "80 degC").set("kill", true).scans(1).set("kill", false);
    text += '\n' + told(m, q.until_broken(20).refuted());
    Playing r(m, "too fast");
    r.set("key", true).set("coolant_temperature", "80 degC").scans(1).set("kill", true);
    text += '\n' + told(m, r.until_broken(20).refuted());
    check_golden("once.txt", text);
}

TEST_CASE("a press that is too short calls for nothing, and one that is held is answered late") {
    const Model m = model_from(wagtail());
    Playing p(m, "short press");
    p.set("key", true).set("coolant_temperature", "80 degC").set("kill", true).scans(2).set("kill", false).scans(2);
    p.set("kill", true);
    const std::string text = flat(told(m, p.until_broken(20).refuted()));
    CHECK(text.find("the claim's time stops") != std::string::npos);
    CHECK(text.find("called for at 0.06 s, when kill had been true since 0.04 s (3 scans in a row)") !=
          std::string::npos);
    CHECK(text.find("it becomes true at 0.10 s, 20 ms too late") != std::string::npos);
}

TEST_CASE("a total that is reached over gaps") {
    const Model m = model_from(wagtail());
    Playing p(m, "flicker");
    p.set("key", true).set("coolant_temperature", "80 degC").scans(1).moves_on();
    for (int k = 0; k < 3; ++k) p.set("kill", true).scans(1).set("kill", false).scans(1);
    check_golden("in-total.txt", told(m, p.until_broken(20).refuted()));
}

TEST_CASE("a window that does not begin with the run") {
    const Model m = model_from(wagtail());
    Playing p(m, "flicker");
    p.set("key", true).set("coolant_temperature", "80 degC").set("kill", true).scans(2).set("kill", false).scans(20);
    p.set("kill", true).moves_on();
    const std::string text = flat(told(m, p.until_broken(20).refuted()));
    CHECK(text.find("kill had been true at 3 scans of the 80 ms that begin at 0.22 s") != std::string::npos);
}

TEST_CASE("more changes than are allowed") {
    const Model m = model_from(wagtail());
    Playing p(m, "no chatter");
    p.set("coolant_temperature", "80 degC").scans(1).set("key", true).scans(5).set("key", false).scans(30);
    p.moves_on().set("key", true).scans(5).set("key", false);
    const std::string text = told(m, p.until_broken(2).refuted());
    CHECK(text.find("changes 2 times within 0.1 s: at 0.36 s, 0.41 s") != std::string::npos);
    Playing q(m, "much chatter");
    q.set("coolant_temperature", "80 degC").scans(1).moves_on();
    for (bool on = true; !q.broken(); on = !on) q.set("key", on).scans(1);
    const std::string many = flat(told(m, q.refuted()));
    CHECK(many.find("0.06 s, ..., 0.11 s, 0.12 s") != std::string::npos);
    check_golden("changes.txt", text);
}

TEST_CASE("a driver who begins anywhere") {
    const Model m = model_from(wagtail());
    std::string text;
    for (const char* claim : {"comes back", "in time"}) {
        Playing p(m, claim);
        p.set("coolant_temperature", "80 degC").set("key", true).scans(2);
        p.set("coolant_temperature", "120 degC").scans(3).moves_on();
        text += told(m, p.until_broken(100).refuted()) + '\n';
    }
    check_golden("from.txt", text);
}

TEST_CASE("what keeps a run in its trap") {
    const Model m = model_from(wagtail());
    const auto tripped = memory(m, "tripped", Op::sr), before = memory(m, "latched", Op::previous);
    check_golden("trapped.txt", trap(m, "no lock-out", {tripped}) + '\n' + trap(m, "with reset", {before, tripped}));
}

TEST_CASE("only what the closed set fixes is said to stay") {
    const Model m = model_from(wagtail());
    CHECK(trap(m, "with reset", {}).find("trapped") == std::string::npos);
    const ElementId latch = element_of(m, "tripped", Op::sr);
    CHECK(trap(m, "with reset", {{{StateRole::before, latch}, true}}).find("trapped") == std::string::npos);
    CHECK(trap(m, "with reset", {{{StateRole::last, signal_named(m, "fan")}, true}}).find("trapped") ==
          std::string::npos);
    // What one bit is enough for.
    const std::string one = flat(trap(m, "with reset", {memory(m, "tripped", Op::sr)}));
    CHECK(one.find("tripped is on since 0.02 s and stays so") != std::string::npos);
    CHECK(one.find("that cannot happen: latched stays on (tripped stays on)") != std::string::npos);
    // Without a cause that can be named.
    const std::string off = flat(trap(m, "by itself", {memory(m, "cooled", Op::band, 0, false)}));
    CHECK(off.find("setting it takes coolant > 90 degC") != std::string::npos);
    CHECK(off.find("names no single cause") != std::string::npos);
}

TEST_CASE("two latches in one line count only together") {
    const Model m = model_from(R"json({"lanyard": 1, "name": "m", "inputs": {"a": "momentary", "b": "momentary"},
        "outputs": {"out": "RS(a, b) OR SR(a, FALSE) OR SR(b, FALSE)"},
        "claims": {"with reset": {"recoverable": "NOT out", "under": "any"}}})json");
    const auto text = [&m](std::map<StateKey, bool> fixed) {
        Playing p(m, "with reset");
        p.set("a", true).set("b", true).scans(2).moves_on().scans(1);
        return flat(told(m, result(m, "with reset", Refuted{p.run(), closed_set({std::move(fixed), {}}), ""})));
    };
    const auto latch = [&m](std::size_t n, bool on) { return memory(m, "out", Op::sr, n, on); };
    CHECK(text({latch(0, true)}).find("trapped") == std::string::npos);
    CHECK(text({latch(1, true)}).find("trapped") == std::string::npos);
    CHECK(text({latch(0, true), latch(1, false)}).find("trapped") == std::string::npos);
    const std::string all = text({latch(1, true), latch(0, true)});
    CHECK(all.find("SR(a, FALSE) is on since 0.00 s and stays so") != std::string::npos);
    CHECK(all.find("it is FALSE by definition") != std::string::npos);
}

TEST_CASE("switches, loop-backs, off-delays and counters that keep a run in its trap") {
    const Model m = model_from(R"json({"lanyard": 1, "name": "m",
        "inputs": {"key": "maintained", "start": "momentary", "seal": {"reads_back": "hold"}},
        "logic": {"tries": "CTU(start, FALSE, 3)"},
        "outputs": {"hold": "TOF(NOT key OR seal, 5 s)", "starter": "start AND NOT hold AND NOT tries"},
        "claims": {"c": {"recoverable": "starter", "may_move": "start", "under": "any"}}})json");
    const auto text = [&m](const Facts& facts) {
        Playing p(m, "c");
        p.scans(2).set("start", true).scans(1).set("start", false).moves_on().scans(1);
        return flat(told(m, result(m, "c", Refuted{p.run(), closed_set(facts), ""})));
    };
    const StateKey key{StateRole::was, signal_named(m, "key")}, hold{StateRole::last, signal_named(m, "hold")};
    CHECK(text({{{key, false}}, {}}).find("trapped key off, and nobody may move it") != std::string::npos);
    CHECK(text({{{hold, true}}, {}}).find("seal reads hold on in every run from there; it goes off 5 s after") !=
          std::string::npos);
    const std::string counted = "tries has counted 1 of 3 and is reset in no run from there";
    const StateKey count{StateRole::count, element_of(m, "tries", Op::ctu)};
    CHECK(text({{}, {{count, 1}}}).find(counted) != std::string::npos);
    CHECK(text({{}, {{count, 0}}}).find("trapped") == std::string::npos);
    CHECK(text({{}, {{hold, 1}}}).find("trapped") == std::string::npos);
}

TEST_CASE("power that could clear a latch is named, and what is retained keeps it") {
    const auto text = [](const std::string& tripped) {
        const Model m = model_from(R"json({"lanyard": 1, "name": "m", "inputs": {"a": "momentary"}, "supply": "NOT a",
            "logic": {"tripped": )json" +
                                   tripped + R"json(}, "outputs": {"out": "NOT tripped"},
            "claims": {"c": {"recoverable": "out AND powered", "hands_off": true, "under": "any"}}})json");
        Playing p(m, "c");
        p.scans(2).moves_on().scans(1);
        return flat(told(m, result(m, "c", Refuted{p.run(), closed_set({{memory(m, "tripped", Op::sr)}, {}}), ""})));
    };
    CHECK(text(R"x("SR(TRUE, FALSE)")x").find("or the controller losing its power") != std::string::npos);
    CHECK(text(R"x({"is": "SR(TRUE, FALSE)", "retained": true})x").find("loses its power") == std::string::npos);
}

TEST_CASE("the word of a claim is told") {
    const Model m = model_from(wagtail());
    Playing p(m, "no chatter");
    p.moves_on().set("coolant_temperature", "80 degC").scans(1).set("key", true).scans(1).set("key", false);
    const ClaimResult r = p.until_broken(2).refuted();
    CHECK(story_of(m, r).find("written as    no_chatter\n") != std::string::npos);
    CHECK(results_json(m, filmed(m, {r}), versions()).find("\"word\": \"no_chatter\"") != std::string::npos);
    const ClaimResult plain = result(m, "with reset", Undecided{"the work limit was hit", 0});
    CHECK(story_of(m, plain).find("written as") == std::string::npos);
    CHECK(story_of(m, plain).find("reached under any\n") != std::string::npos);
    CHECK(results_json(m, filmed(m, {plain}), versions()).find("\"word\"") == std::string::npos);
}

TEST_CASE("one change is no changes") {
    const Model m = model_from(wagtail());
    CHECK(story_of(m, result(m, "no chatter", Undecided{"x", 0})).find("at most 1 time within") != std::string::npos);
    CHECK(story_of(m, result(m, "much chatter", Undecided{"x", 0})).find("at most 11 times within") !=
          std::string::npos);
}

TEST_CASE("an undecided claim names the comparisons that make its search slow") {
    const Model m = model_from(R"json({"lanyard": 1, "name": "m",
      "quantities": {"water": "0 .. 120 degC", "air": "0 .. 60 degC", "oil": "0 .. 8 bar"},
      "logic": {"gap": "water - air", "moves": "water <> previous(water)", "warm": "gap > 10 K", "hot": "water > 90 degC",
                "odd": "oil > 2 * oil - 5 bar"},
      "outputs": {"fan": "hot OR moves", "lamp": "warm", "horn": "hot AND odd"},
      "claims": {"fan": {"always": "hot -> fan"}, "lamp": {"always": "lamp -> warm"}, "horn": {"always": "horn -> hot"},
                 "own": {"always": "horn -> water > air"}}})json");
    const auto told = [&](const std::string& claim) { return story_of(m, result(m, claim, Undecided{"x", 0})); };
    CHECK(told("fan").find("'water <> previous(water)' looks at two") != std::string::npos);
    CHECK(told("fan").find("air") == std::string::npos);
    CHECK(told("lamp").find("'gap > 10 K' looks at two numbers") != std::string::npos);
    CHECK(told("horn").find("slow where") == std::string::npos);
    CHECK(told("own").find("'water > air' looks at two numbers") != std::string::npos);
}
