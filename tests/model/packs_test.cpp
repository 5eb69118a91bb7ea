// Rule packs: files that are none, models judged by a pack of the tests' own, and what becomes of rules.
#include "model/packs.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "helpers.hpp"

using namespace lanyard::model;
using namespace lanyard::test;

namespace {

Model judged(const std::string& body) { return model_from(model_text(body), "test.json", {yard()}); }

const std::string skiff =
    "'quantities': { 'water': '0 .. 1 m' }, 'inputs': { 'handle': 'maintained', 'key': 'maintained' }, "
    "'outputs': { 'pump': 'key AND NOT handle' }";

const RuleUse& use_of(const Model& m, const std::string& rule) {
    for (const auto& u : m.rules)
        if (u.rule == rule) return u;
    FAIL("no rule " << rule);
    return m.rules.front();
}

}  // namespace

TEST_CASE("shipped packs are read without a word") {
    CHECK_FALSE(shipped_packs().empty());
    for (const auto& p : shipped_packs()) {
        INFO(render(p.diagnostics, p.source));
        CHECK(p.pack != nullptr);
        CHECK(p.diagnostics.list().empty());
    }
}

TEST_CASE("a played rule becomes claims of the model") {
    const Model m = judged(skiff + ", 'roles': { 'bilge_pump': 'pump', 'stop_handle': 'handle' }");
    REQUIRE(m.claims.size() == 2);
    const Claim& c = claim(m, "yard/pump-stops: stops");
    CHECK(c.rule == "yard/pump-stops");
    const auto& r = std::get<Response>(c.body);
    CHECK(text_of(m, *r.whenever) == "handle");
    CHECK(text_of(m, *r.then) == "NOT pump");
    CHECK(r.within == Rational{1, 10});
    const auto& p = std::get<Procedure>(claim(m, "yard/pump-stops: by hand").body);
    REQUIRE(p.phases.size() == 1);
    CHECK(p.phases[0].positions.front());
    CHECK(p.phases[0].limit == Rational{1, 10});
    CHECK(use_of(m, "yard/pump-stops").state == RuleState::judged);
}

TEST_CASE("a rule of the wiring does not apply to a model without") {
    const Model m = judged(skiff + ", 'roles': { 'bilge_pump': 'pump', 'stop_handle': 'handle' }");
    CHECK(use_of(m, "yard/wires-break").state == RuleState::wiring_missing);
}

TEST_CASE("a list of faults plays a role; kinds of parts that a model lacks are left out of a rule") {
    const std::string wired =
        "'circuit': { 'parts': { 'battery': 'battery', 'handle': { 'is': 'switch', 'switch': 'maintained', 'contact': "
        "'break' }, 'F1': 'fuse', 'pump': 'load' }, 'wires': { 'W1': 'battery - F1 - handle - pump', 'W2': 'pump.out "
        "- ground' } }, ";
    const Model m = judged(wired +
                           "'roles': { 'bilge_pump': 'pump', 'stop_handle': 'handle', 'stop_wires': 'handle, "
                           "W1.open' }");
    CHECK(use_of(m, "yard/wires-break").state == RuleState::judged);
    const Condition& c = m.conditions[claim(m, "yard/wires-break: works").condition];
    CHECK(c.at_most == 2);
    std::vector<std::string> names;
    for (const FaultId f : c.faults) names.push_back(m.faults[f].name);
    std::sort(names.begin(), names.end());
    CHECK(names == std::vector<std::string>{"F1.open", "W1.1.open", "W1.2.open", "W1.3.open", "handle.bounces",
                                            "handle.stuck_off", "handle.stuck_on"});
}

TEST_CASE("a rule may be written in the words of the trade") {
    const PackResult pack = read_pack("slip", "pack.json", R"({
        "lanyard_rules": 1, "title": "Slip", "publisher": "the yard", "edition": "1", "text_read": "none", "scope": "all",
        "roles": { "bilge_pump": { "kind": "load", "meaning": "pump" }, "stop_handle": { "kind": "switch", "meaning": "stop" } },
        "rules": { "stop": { "requires": "it stops", "citation": "page 1", "roles": ["stop_handle", "bilge_pump"],
            "claims": { "kills": { "switch": "stop_handle", "kills": ["bilge_pump"], "within": "0.1 s" } } } } })");
    INFO(render(pack.diagnostics, pack.source));
    REQUIRE(pack.pack != nullptr);
    const auto read = read_model(
        "test.json", model_text(skiff + ", 'roles': { 'bilge_pump': 'pump', 'stop_handle': 'handle' }"), {pack.pack});
    INFO(render(read.diagnostics, read.source));
    REQUIRE(read.model);
    const Claim& c = claim(*read.model, "slip/stop: kills");
    CHECK(c.pattern == "kills");
    const auto& r = std::get<Response>(c.body);
    CHECK(text_of(*read.model, *r.whenever) == "handle");
    CHECK(text_of(*read.model, *r.then) == "NOT pump");
}

TEST_CASE("without packs, roles make no claims") {
    const Model m = good(skiff);
    CHECK(m.claims.empty());
    CHECK(m.rules.empty());
}

TEST_CASE("an expression plays a role as a whole, with memory of its own in each claim") {
    const Model m = judged(
        "'inputs': { 'handle': 'maintained', 'key': 'maintained' }, 'outputs': { 'pump': 'key' }, "
        "'quantities': { 'water': '0 .. 1 m' }, "
        "'roles': { 'bilge_pump': 'pump OR TON(key, 1 s)', 'bilge_level': 'water' }");
    const auto& a = std::get<Always>(claim(m, "yard/pump-runs: runs").body);
    CHECK(text_of(m, *a.body) == "water > 0.1 m -> pump OR TON(key, 1 s)");
    CHECK(m.elements.size() == 1);
    CHECK(m.elements.front().observer);
    const Model negated = judged(skiff +
                                 ", 'roles': { 'bilge_pump': 'pump OR key', 'lamp': 'pump' }, "
                                 "'engine': {}");
    CHECK(text_of(negated, *std::get<Always>(claim(negated, "yard/no-lamp: dark").body).body) ==
          "engine = stopped -> NOT pump");
}

TEST_CASE("a note is left as it is") {
    const Model m = judged(skiff + ", 'roles': { 'bilge_pump': 'pump', 'bilge_level': 'water' }");
    CHECK(claim(m, "yard/pump-runs: runs").note == "high water, bilge_level above high");
}

TEST_CASE("a model may choose parameters") {
    const Model m = judged(skiff +
                           ", 'roles': { 'bilge_pump': 'pump', 'stop_handle': 'handle' }, "
                           "'rule_values': { 'yard/pump-stops': { 'delay': '0.3 s' } }");
    CHECK(std::get<Response>(claim(m, "yard/pump-stops: stops").body).within == Rational{3, 10});
    CHECK(use_of(m, "yard/pump-stops").changed == std::vector<std::string>{"delay = 0.3 s (the pack says 0.1 s)"});
    CHECK(use_of(m, "yard/pump-runs").changed.empty());
}

TEST_CASE("a rule without its roles does not apply, and the model's candidates are named") {
    const Model m = judged(skiff + ", 'roles': { 'stop_handle': 'handle', 'lamp': 'pump' }");
    CHECK(m.claims.empty());
    const RuleUse& stops = use_of(m, "yard/pump-stops");
    CHECK(stops.state == RuleState::roles_missing);
    REQUIRE(stops.missing.size() == 1);
    CHECK(stops.missing[0].name == "bilge_pump");
    CHECK(stops.missing[0].candidates == std::vector<std::string>{"pump"});
    const RuleUse& runs = use_of(m, "yard/pump-runs");
    REQUIRE(runs.missing.size() == 2);
    CHECK(runs.missing[0].candidates == std::vector<std::string>{"water"});
    CHECK(use_of(m, "yard/no-lamp").state == RuleState::engine_missing);
}

TEST_CASE("marks of how well a text is known: the rule's own, else the pack's") {
    CHECK(find_rule({yard()}, "yard/pump-runs")->text_read == "memory");
    CHECK(find_rule({yard()}, "yard/pump-stops")->text_read == "primary");
    CHECK(find_rule({yard()}, "yard/nothing") == nullptr);
}
