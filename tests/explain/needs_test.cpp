// What proofs need, by hand: without it a run is easily thought of that breaks the claim.
#include "explain/needs.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "report/needs.hpp"
#include "support.hpp"

using namespace lanyard::explain;
using namespace lanyard::report;
using namespace lanyard::test;

namespace {

ClaimNeeds found_for(const Model& m, const std::string& claim, unsigned jobs = 1) {
    DriverOptions o;
    o.claims = {claim_named(m, claim)};
    o.jobs = jobs;
    ClaimNeeds found = needs_of(m, o, 4'000'000).claims[0];
    CHECK(std::holds_alternative<Proved>(found.result.verdict));
    return found;
}

// "needed: accuracy of oil", in order
std::vector<std::string> needed_by(const Model& m, const std::string& claim, unsigned jobs = 1) {
    static constexpr const char* words[] = {"needed: ", "by itself: ", "spare: ", "unknown: "};
    const ClaimNeeds found = found_for(m, claim, jobs);
    std::vector<std::string> out;
    for (const auto& a : found.assumptions)
        out.push_back(words[ordinal(a.need)] + assumption_words(m, found.result.claim, a.assumption));
    return out;
}

using List = std::vector<std::string>;

}  // namespace

TEST_CASE("a sensor's accuracy is needed where a threshold lies near, and else is not") {
    const Model m = model_from(R"json({"lanyard": 1, "name": "m",
      "inputs": {"key": "maintained", "oil": {"senses": "oil_pressure", "accuracy": "0.5 psi", "delay": "20 ms"}},
      "outputs": {"run": "key AND oil > 15 psi"},
      "claims": {
        "cut": {"whenever": "oil_pressure < 14 psi", "then": "NOT run", "within": "80 ms"},
        "tight": {"whenever": "oil_pressure < 14 psi", "then": "NOT run", "within": "50 ms"},
        "key off": {"always": "NOT key -> NOT run"}}})json");
    // With twice the delay a reading of 40 ms ago counts, which 80 ms leave room for and 50 ms do not.
    CHECK(needed_by(m, "cut") == List{"needed: accuracy of oil", "spare: delay of oil (if twice as long)"});
    CHECK(needed_by(m, "tight") == List{"needed: accuracy of oil", "needed: delay of oil (if twice as long)"});
    CHECK(needed_by(m, "key off") == List{"spare: accuracy of oil", "spare: delay of oil (if twice as long)"});
    CHECK(needed_by(m, "cut", 2) == needed_by(m, "cut"));
}

TEST_CASE("a condition's parts, one by one") {
    const Model m = model_from(R"json({"lanyard": 1, "name": "m",
      "inputs": {"a": "maintained", "b": "maintained", "water": {"senses": "coolant_temperature"}},
      "outputs": {"lamp": "a AND b", "fan": "water > 130 degC"},
      "conditions": {"a_is_off": {"base": "any", "holds": "NOT a"},
                     "mild": {"base": "healthy", "except": {"coolant_temperature": "10 .. 102 degC"}}},
      "claims": {
        "dark": {"always": "NOT lamp", "under": "a_is_off"},
        "no fan": {"always": "NOT fan", "under": "mild"},
        "fan when hot": {"always": "coolant_temperature > 131 degC -> fan", "under": "any"}}})json");
    CHECK(needed_by(m, "dark") == List{"needed: condition NOT a"});
    const List fan = needed_by(m, "no fan");
    CHECK(std::count(fan.begin(), fan.end(), "needed: coolant_temperature within 10 .. 102 degC") == 1);
    CHECK(std::count(fan.begin(), fan.end(), "needed: accuracy of water") == 1);
    CHECK(needed_by(m, "fan when hot") == List{"needed: accuracy of water"});
}

TEST_CASE("two of a kind can be spared one at a time") {
    const Model m = model_from(R"json({"lanyard": 1, "name": "m",
      "inputs": {"one": {"senses": "oil_pressure", "accuracy": "0.5 psi"},
                 "two": {"senses": "oil_pressure", "accuracy": "0.5 psi"},
                 "water": {"senses": "coolant_temperature", "accuracy": "1 degC"}},
      "outputs": {"run": "one > 15 psi AND two > 15 psi AND water < 120 degC"},
      "claims": {"cut": {"whenever": "oil_pressure < 14 psi", "then": "NOT run", "within": "80 ms"}}})json");
    CHECK(needed_by(m, "cut") ==
          List{"spare: accuracy of one", "by itself: accuracy of two", "spare: accuracy of water"});
    CHECK(needed_by(m, "cut", 2) == needed_by(m, "cut"));
}

TEST_CASE("logic that every proof needs, and logic that this one happens to use") {
    const Model m = model_from(R"json({"lanyard": 1, "name": "m",
      "inputs": {"key": "maintained", "a": "maintained", "b": "maintained"},
      "logic": {"x": "key AND a", "y": "key AND b", "z": "a OR b"},
      "outputs": {"run": "x AND y AND z"},
      "claims": {"key off": {"always": "NOT key -> NOT run"}}})json");
    const ClaimNeeds found = found_for(m, "key off");
    std::vector<std::string> by_every, by_this;
    for (const auto& e : found.elements) (e.by_every_proof ? by_every : by_this).push_back(e.name);
    CHECK(by_every == List{"run"});
    // x or y, but not both: none is left that could be taken out.
    REQUIRE(by_this.size() == 1);
    CHECK((by_this[0] == "x" || by_this[0] == "y"));
}

TEST_CASE("what is possible is not asked") {
    const Model m = model_from(R"json({"lanyard": 1, "name": "m", "inputs": {"a": "maintained"},
      "outputs": {"lamp": "a"}, "claims": {"lit": {"possible": "lamp", "under": "healthy"}}})json");
    CHECK(assumptions_of(m, ClaimId(0)).empty());
}
