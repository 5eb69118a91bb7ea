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

List elements_of(const ClaimNeeds& found, std::optional<bool> by_every_proof) {
    List out;
    for (const auto& e : found.elements)
        if (e.by_every_proof == by_every_proof) out.push_back(e.name);
    return out;
}

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
    const List by_every = elements_of(found, true), by_this = elements_of(found, false);
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

TEST_CASE("what is stuck and then leaves nothing to claim is needed all the same") {
    // Without coils the engine never runs, and nothing cuts out: vacuous. With coils that come and go it is refuted.
    const Model m = model_from(R"json({"lanyard": 1, "name": "m",
      "inputs": {"key": "maintained"},
      "logic": {"run": "key"},
      "outputs": {"coils": "run", "lamp": "key OR run"},
      "engine": {"fires_with": "coils"},
      "claims": {"no cut": {"whenever": "key AND engine = running", "for": "1 s", "then": "coils", "within": "0.1 s"}}
      })json");
    const ClaimNeeds found = found_for(m, "no cut");
    CHECK(elements_of(found, true) == List{"coils", "run"});
    CHECK(elements_of(found, false).empty());
    CHECK(needs_text(m, {found}).find("  every proof   coils; run\n") != std::string::npos);
}

TEST_CASE("logic that is vacuous when stuck, and that no proof needs") {
    // Stuck off the lamp is never lit; whatever x does, it is lit with the key only.
    const Model m = model_from(R"json({"lanyard": 1, "name": "m", "inputs": {"key": "maintained", "a": "maintained"},
      "logic": {"x": "key AND a"}, "outputs": {"lamp": "key AND x"},
      "claims": {"key": {"always": "lamp -> key"}}})json");
    const ClaimNeeds found = found_for(m, "key");
    CHECK(elements_of(found, true) == List{"lamp"});
    CHECK(elements_of(found, std::nullopt).empty());
}

TEST_CASE("a duty may be anything from 0 to 100 %, and logic that is a number is not asked") {
    const Model m = model_from(R"json({"lanyard": 1, "name": "m",
      "inputs": {"oil": {"senses": "oil_pressure", "accuracy": "0.1 bar"}},
      "logic": {"above": "oil - 1 bar"},
      "tables": {"map": {"rows": {"of": "above", "unit": "bar", "at": [0, 2]}, "unit": "%", "cells": [0, 80]}},
      "outputs": {"pump": {"duty": "table(map, above)"}},
      "claims": {"oil": {"always": "oil_pressure > 3.5 bar -> pump >= 60 %", "under": "any"}}})json");
    const ClaimNeeds found = found_for(m, "oil");
    CHECK(elements_of(found, true) == List{"pump"});
    CHECK(elements_of(found, std::nullopt) == List{"above"});
}

TEST_CASE("what no work was left for is not known, never a matter of this proof") {
    const Model m = model_from(R"json({"lanyard": 1, "name": "m",
      "inputs": {"key": "maintained", "oil": {"senses": "oil_pressure", "accuracy": "0.5 psi"}},
      "logic": {"low": "oil < 15 psi"}, "outputs": {"run": "key AND NOT low"},
      "claims": {"cut": {"whenever": "oil_pressure < 14 psi", "then": "NOT run", "within": "80 ms"}}})json");
    DriverOptions o;
    o.claims = {claim_named(m, "cut")};
    const ClaimNeeds found = needs_of(m, o, 0).claims[0];
    CHECK(elements_of(found, std::nullopt) == List{"low", "run"});
    const std::string text = needs_text(m, {found});
    CHECK(text.find("  not known     low; run; accuracy of oil\n") != std::string::npos);
    CHECK(text.find("this proof") == std::string::npos);
    CHECK(elements_of(found_for(m, "cut"), true) == List{"low", "run"});
}

TEST_CASE("of a claim that is undecided it is said what stopped it, and whether it can be broken") {
    // That lamp and out go together is seen at once; to light them takes one button after the other.
    std::string logic = "'s0': 'SR(k AND NOT z, k AND z)'";
    for (int i = 1; i < 14; ++i) {
        const std::string now = i % 2 == 0 ? "k AND NOT z" : "z AND NOT k";
        logic +=
            ", 's" + std::to_string(i) + "': 'SR(previous(s" + std::to_string(i - 1) + ") AND " + now + ", k AND z)'";
    }
    const Model m = model_of("'inputs': {'k': 'momentary', 'z': 'momentary'}, 'logic': {" + logic +
                             "}, 'outputs': {'lamp': 'k', 'out': 'k AND s13'}, "
                             "'claims': {'lit': {'always': 'out -> lamp'}}");
    int unbroken = 0;
    for (const std::uint64_t work : {1'000, 30'000, 40'000}) {
        INFO("work " << work);
        DriverOptions o;
        o.claims = {ClaimId(0)};
        o.work_limit = work;
        const ClaimNeeds found = needs_of(m, o, work).claims[0];
        const auto* open = std::get_if<Undecided>(&found.result.verdict);
        REQUIRE(open != nullptr);
        CHECK(open->unbroken == open->reason.starts_with("no violation is possible"));
        unbroken += open->unbroken ? 1 : 0;
        const std::string text = needs_text(m, {found});
        CHECK(text.starts_with("lit: undecided, "));
        CHECK(text.find("\n  stopped by    " + open->reason.substr(0, 40)) != std::string::npos);
    }
    CHECK(unbroken > 0);
    CHECK(unbroken < 3);
}

TEST_CASE("what is assumed of an engine that is cut") {
    const Model m = model_of(
        "'inputs': {'key': 'maintained'}, 'outputs': {'coils': 'key'}, 'engine': {'fires_with': 'coils'}, "
        "'claims': {'runs': {'possible': 'engine = running', 'under': 'healthy'}}");
    CHECK(needs_text(m, {}).find("\n  engine, keeps turning without firing for  0.3 .. 3 s (common practice)\n") !=
          std::string::npos);
}
