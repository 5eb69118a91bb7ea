// Causes of traps, by hand on small models: with what is marked otherwise, the interpreter plays the run on to the
// goal.
#include <catch2/catch.hpp>

#include "explain/causes.hpp"
#include "explain/trap_causes.hpp"
#include "prove/driver.hpp"
#include "report/cause_words.hpp"
#include "report/json.hpp"
#include "support.hpp"

using namespace lanyard::explain;
using namespace lanyard::report;
using namespace lanyard::test;

namespace {

using Words = std::vector<std::string>;

struct Trap {
    Words told;
    Causes causes;
    std::string json;  // of the claim, behind its causes
};

Trap trap_of(const std::string& text, const std::string& claim) {
    const Model m = model_from(text);
    const ClaimId which = claim_named(m, claim);
    DriverOptions options;
    options.claims = {which};
    const auto results = check_claims(m, options).results;
    const auto* refuted = std::get_if<Refuted>(&results[0].verdict);
    REQUIRE(refuted != nullptr);
    REQUIRE(refuted->run);
    REQUIRE(refuted->certificate);
    Trap out;
    out.causes = trap_causes_of(m, *refuted->run, *refuted->certificate, which, JudgeOptions{});
    CHECK(out.causes.of_trap);
    check_trap_causes(m, *refuted->run, which, out.causes);
    out.told = cause_sentences(m, *refuted->run, out.causes);
    FilmedResults filmed;
    filmed.emplace_back(m, results[0]).causes = out.causes;
    out.json = Json::parse(results_json(m, filmed, {"0", "Z3"}))["claims"][0]["trap"].dump(1);
    return out;
}

const std::string latched = R"json({"lanyard": 1, "name": "m", "inputs": {"a": "momentary", "b": "maintained"},
  "outputs": {"trip": "RS(a, FALSE)", "lamp": "b AND NOT trip"}, "claims": {"back": {"recoverable": "lamp"}}})json";

const std::string tripped_by_oil = R"json({"lanyard": 1, "name": "m",
  "quantities": {"oil": {"range": "0 .. 100 psi", "healthy": "20 .. 80 psi"}},
  "inputs": {"key": "maintained", "reset": "momentary"},
  "logic": {"trip": "RS(oil < 15 psi, reset)"}, "outputs": {"inj": "key AND NOT trip"},
  "claims": {"back": {"recoverable": "inj", "may_move": ["key"]}}})json";

const std::string two_traps = R"json({"lanyard": 1, "name": "m", "inputs": {"a": "momentary", "b": "maintained"},
  "outputs": {"first": "RS(a, FALSE)", "second": "RS(NOT a AND NOT first, FALSE)",
              "lamp": "b AND NOT first AND NOT second"},
  "claims": {"back": {"recoverable": "lamp"}}})json";

}  // namespace

TEST_CASE("a latch that nobody resets: what set it is why") {
    const Trap trap = trap_of(latched, "back");
    REQUIRE(trap.told.size() == 1);
    CHECK(trap.told[0].find("a pressed at ") == 0);
    CHECK(trap.told[0].find(", the goal could still be reached") != std::string::npos);
}

TEST_CASE("a quantity that trips it: the value that would have been harmless") {
    const Trap trap = trap_of(tripped_by_oil, "back");
    REQUIRE_FALSE(trap.causes.list.empty());
    CHECK(trap.told[0].find("oil ") == 0);
    CHECK(trap.told[0].find("psi, the goal could still be reached") != std::string::npos);
}

// To be outside of one trap is not enough: without a way to the goal nothing is marked.
TEST_CASE("from one trap into the other is no way out") {
    const Trap trap = trap_of(two_traps, "back");
    CHECK(trap.causes.list.empty());
    CHECK(trap.told[0] == "no choice was found that, if changed, leaves the goal within reach");
}

TEST_CASE("when a trap shut, and what can never be so again") {
    const Trap trap = trap_of(R"json({"lanyard": 1, "name": "m",
      "quantities": {"speed": "0 .. 9000 rpm", "t": "-40 .. 150 degC"}, "inputs": {"key": "maintained"},
      "logic": {"hot": "SR(t > 110 degC, t < 90 degC AND speed > 600 rpm)"}, "outputs": {"inj": "key AND NOT hot"},
      "engine": {"speed": "speed", "coolant_temperature": "t", "fires_with": ["inj"], "coast_down": "0 .. 0.05 s"},
      "claims": {"back": {"recoverable": "inj"}}})json",
                              "back");
    REQUIRE(trap.causes.trap.never.size() == 1);
    CHECK(trap.causes.trap.never[0]->op == Op::gt);
    CHECK(trap.causes.trap.lost_modes == std::vector{Mode::running, Mode::coasting});
    CHECK(trap.causes.trap.shut >= 0);
    CHECK(trap.json == R"json({
 "shut": {
  "scan": 0,
  "time_s": "0",
  "at_the_latest": false
 },
 "never_again": [
  {
   "condition": "speed > 600 rpm",
   "text": "speed > 600 rpm is true in no run from there (the engine can no longer be running or coasting, and speed is stopped 0 rpm, cranking 150 .. 250 rpm)"
  }
 ],
 "lost_modes": [
  "running",
  "coasting"
 ]
})json");
}
