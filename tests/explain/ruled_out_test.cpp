// Causes ruled out: where a choice of the wiring, of a relay or of the engine is what breaks a claim, the claim holds
// of the model without that choice - and the other runs are the ones that need it not.
#include "explain/ruled_out.hpp"

#include <catch2/catch.hpp>

#include "explain/causes.hpp"
#include "explain/other_runs.hpp"
#include "prove/driver.hpp"
#include "support.hpp"

using namespace lanyard::explain;
using namespace lanyard::test;

namespace {

using Kind = InputEvent::Kind;

OtherRun first_run(const Model& m) {
    DriverOptions options;
    options.claims = {ClaimId(0)};
    const auto results = check_claims(m, options).results;
    const auto* refuted = std::get_if<Refuted>(&results[0].verdict);
    REQUIRE(refuted != nullptr);
    REQUIRE(refuted->run);
    OtherRun out{*refuted->run, causes_of(m, *refuted->run, ClaimId(0))};
    check_causes(m, out.run, ClaimId(0), out.causes);
    return out;
}

bool is_of(const Causes& causes, Kind kind) {
    for (const auto& cause : causes.list)
        for (const auto& part : cause.parts)
            if (part.event.kind == kind) return true;
    return false;
}

// The claim's verdict in the model without the causes of that kind.
void check_holds_without(const std::string& text, Kind kind) {
    const Model m = model_from(text);
    const OtherRun first = first_run(m);
    REQUIRE(is_of(first.causes, kind));
    Model narrower = m;
    narrower.claims.front().condition = narrower.conditions.add(m.conditions[m.claims.front().condition]);
    for (const auto& cause : first.causes.list)
        for (const auto& part : cause.parts)
            if (part.event.kind == kind) {
                const auto without = rules_out(m, first.run, part);
                REQUIRE(without);
                (*without)(narrower);
            }
    CHECK(std::holds_alternative<Proved>(judge(narrower, ClaimId(0), {}).verdict));
}

// One run needs such a choice, another does not.
void check_others(const std::string& text, Kind kind) {
    const Model m = model_from(text);
    const OtherRun first = first_run(m);
    const auto others = other_runs(m, first, ClaimId(0), 4, {}).list;
    int with = is_of(first.causes, kind) ? 1 : 0, without = 1 - with;
    for (const auto& other : others) {
        check_causes(m, other.run, ClaimId(0), other.causes);
        CHECK(breaks(m, other.run, ClaimId(0)));
        ++(is_of(other.causes, kind) ? with : without);
    }
    CHECK(with > 0);
    CHECK(without > 0);
}

std::string slow_relay(const std::string& on, const std::string& times) {
    return R"({"lanyard": 1, "name": "m", "inputs": {"kill": "maintained", "held": "maintained"},
      "outputs": {"run": {"on": ")" +
           on + R"(", "relay": "K1"}}, "relays": {"K1": {)" + times + R"(, "feeds": ["pump"]}},
      "claims": {"off": {"whenever": "kill", "then": "NOT pump", "within": "40 ms"}}})";
}

std::string wired(const std::string& parts, const std::string& wires, const std::string& claim) {
    return R"({"lanyard": 1, "name": "m", "circuit": {"parts": {"battery": "battery", )" + parts + R"(}, "wires": {)" +
           wires + R"(}}, "claims": {"fed": {"always": ")" + claim + R"("}}})";
}

const std::string hand = R"({"is": "switch", "switch": "maintained"})";

const std::string change_over_relay =
    "\"go\": " + hand + R"(, "K1": {"is": "relay", "pulls_in": "20 ms"}, "lamp": "load", "horn": "load",
    "cut": {"is": "switch", "switch": "maintained", "contact": "break"})";
std::string on_both_sides(const std::string& feed) {
    return R"("w1": "battery - go - K1.coil - ground", "w2": ")" + feed +
           R"( - K1.30", "w3": "K1.87 - lamp - ground", "w4": "K1.87a - horn - ground")";
}

}  // namespace

TEST_CASE("a slow relay is ruled out") {
    check_holds_without(slow_relay("NOT kill", R"("drops_out": "0 .. 50 ms")"), Kind::contact);
    check_others(slow_relay("NOT kill OR held", R"("drops_out": "0 .. 50 ms")"), Kind::contact);
}

TEST_CASE("a slow relay whose coil is wired is ruled out") {
    const std::string parts =
        "\"go\": " + hand + R"(, "K1": {"is": "relay", "drops_out": "50 ms"}, "lamp": "load", "horn": "load")";
    const std::string wires =
        R"("w1": "battery - go - K1.coil - ground", "w2": "battery - K1.make - lamp - ground",
           "w3": "go.out - horn - ground")";
    check_holds_without(wired(parts, wires, "lamp -> horn"), Kind::contact);
}

TEST_CASE("a contact found between its positions is ruled out") {
    check_holds_without(wired(change_over_relay, on_both_sides("battery"), "lamp OR horn"), Kind::wiring);
    check_others(wired(change_over_relay, on_both_sides("battery - cut"), "lamp OR horn OR cut AND NOT go"),
                 Kind::wiring);
}

TEST_CASE("a switch found between its positions is ruled out") {
    const std::string parts =
        R"("sel": {"is": "switch", "switch": "maintained", "contact": "change-over"}, "lamp": "load", "horn": "load")";
    const std::string wires =
        R"("w1": "battery - sel.in", "w2": "sel.make - lamp - ground", "w3": "sel.break - horn - ground")";
    check_holds_without(wired(parts, wires, "lamp OR horn"), Kind::wiring);
}

TEST_CASE("a load that may or may not work is ruled out") {
    const std::string parts = R"("lamp": "load", "horn": "load")";
    check_holds_without(wired(parts, R"("w1": "battery - lamp - horn - ground")", "NOT lamp"), Kind::wiring);
}

TEST_CASE("a mode that the world chose is ruled out") {
    const auto engine = [](const std::string& lit) {
        return R"json({"lanyard": 1, "name": "m", "inputs": {"c": "maintained"}, "outputs": {"coil": "c"},
                 "engine": {"fires_with": ["coil"]}, "claims": {"dark": {"always": "NOT ()json" +
               lit + R"json()"}}})json";
    };
    check_holds_without(engine("engine = cranking"), Kind::mode);
    check_others(engine("engine = cranking OR TON(c, 1 s)"), Kind::mode);
}
