// A set of rules that stops time would prove everything: in every model of the repository time can always go on, but
// for those that are there to show what becomes of claims where it cannot.
#include <catch2/catch.hpp>

#include "prove/time.hpp"
#include "support.hpp"

using namespace lanyard::prove;
using namespace lanyard::test;

namespace {

std::string verdict(const Model& m, ConditionId condition) {
    const TimeVerdict v = time_goes_on(m, condition, {}, {});
    if (const auto* unknown = std::get_if<TimeUnknown>(&v)) return "unknown: " + unknown->reason;
    return std::holds_alternative<TimeGoesOn>(v) ? "goes on" : "stops";
}

}  // namespace

TEST_CASE("time can always go on") {
    for (const ModelFile& file : all_models()) {
        for (const ConditionId condition : {any_condition, healthy_condition}) {
            INFO(file.path << " under " << file.model.conditions[condition].name);
            // An engine whose tank is empty may stall, unless it is healthy.
            const bool stops = file.path.ends_with("/quantity-beyond-the-claim.json") ||
                               (file.path.ends_with("/fuel-beyond-the-claim.json") && condition == healthy_condition);
            CHECK(verdict(file.model, condition) == (stops ? "stops" : "goes on"));
        }
    }
}

TEST_CASE("time that stops is found", "[short]") {
    const Model m = model_of(
        "'quantities': {'x': {'range': '0 .. 5 V', 'follows': [{'changes': '100 .. 200 V/s'}, {'within': '0 .. 4 "
        "V'}]}}, "
        "'inputs': {'a': 'maintained'}, 'outputs': {'q': 'a AND x > 2 V'}, "
        "'conditions': {'seen': 'x >= 0 V', 'never': 'x < 0 V', 'held': 'NOT TON(a, 20 ms) AND a'}, "
        "'claims': {'c': {'always': 'q -> a'}}");
    CHECK(verdict(m, condition_named(m, "seen")) == "stops");
    CHECK(verdict(m, condition_named(m, "never")) == "stops");
    CHECK(verdict(m, condition_named(m, "held")) == "stops");
    // Not even where nobody speaks of x: no run is without it.
    CHECK(verdict(m, condition_named(m, "any")) == "stops");
    const Model free = model_of(
        "'quantities': {'x': {'range': '0 .. 5 V', 'follows': [{'changes': '-100 .. 200 V/s'}]}}, "
        "'inputs': {'a': 'maintained'}, 'outputs': {'q': 'a AND x > 2 V'}, "
        "'claims': {'c': {'always': 'q -> a'}}");
    CHECK(verdict(free, condition_named(free, "any")) == "goes on");
    // At the end of its range it stays.
    const Model full = model_of(
        "'quantities': {'x': {'range': '0 .. 5 V', 'follows': [{'changes': '100 .. 200 V/s'}]}}, "
        "'inputs': {'a': 'maintained'}, 'outputs': {'q': 'a AND x > 2 V'}, "
        "'claims': {'c': {'always': 'q -> a'}}");
    CHECK(verdict(full, condition_named(full, "any")) == "goes on");
}

TEST_CASE("the words for time that stops name what cannot be met together", "[short]") {
    const auto why = [](const Model& m, ConditionId condition, ClaimId claim) {
        const TimeVerdict v = time_goes_on(m, condition, claim, {});
        REQUIRE(std::holds_alternative<TimeStops>(v));
        return vacuous_because(m, ClaimId(0), std::get<TimeStops>(v)).reason;
    };
    const Model hot = model_of(
        "'quantities': {'coolant_temperature': {'follows': [{'changes': '-1 .. 1 degC/s'}]}}, "
        "'inputs': {'a': 'maintained'}, 'outputs': {'q': 'a'}, 'engine': {'fires_with': ['q']}, "
        "'claims': {'c': {'procedure': ['set a', 'wait 20 ms'], 'from': 'coolant_temperature > 120 degC', 'ends_with': "
        "'q', 'under': 'healthy', 'reached_under': 'any'}}");
    const std::string seam = why(hot, healthy_condition, ClaimId(0));
    INFO(seam);
    CHECK(seam.starts_with("the second condition (under) stops time"));
    CHECK(seam.find("coolant_temperature, line 1 of its \"follows\": changes") != std::string::npos);
    CHECK(seam.find("coolant_temperature, healthy in ") != std::string::npos);
    CHECK(seam.find("Before that: at 0.00 s") != std::string::npos);

    const Model slow = model_of(
        "'inputs': {'a': 'maintained', 'b': 'maintained'}, 'outputs': {'q': 'a'}, "
        "'conditions': {'busy': 'b OR NOT b AND NOT TON(NOT a, 20 ms)'}, "
        "'claims': {'c': {'procedure': ['wait 50 ms', 'set a', 'wait 20 ms'], 'ends_with': 'q', 'under': 'busy'}}");
    const std::string late = why(slow, condition_named(slow, "busy"), ClaimId(0));
    INFO(late);
    CHECK(late.find("NOT TON(NOT a, 20 ms)") != std::string::npos);
    CHECK(late.find("the driver has a off") != std::string::npos);

    const Model forced = model_of(
        "'inputs': {'a': 'maintained', 'b': 'momentary'}, 'outputs': {'q': 'a', 'st': 'b'}, 'engine': {'fires_with': "
        "['q'], 'cranks_with': 'st'}, 'conditions': {'never': 'engine <> coasting'}, "
        "'claims': {'c': {'always': 'q -> a', 'under': 'never'}}");
    const std::string only = why(forced, condition_named(forced, "never"), {});
    INFO(only);
    CHECK(only.find("where the engine can only be coasting") != std::string::npos);
    CHECK(only.find("engine <> coasting") != std::string::npos);
}
