// A set of rules that stops time would prove everything: in every model of the repository time can always go on, but
// for those that are there to show what becomes of claims where it cannot.
#include <catch2/catch.hpp>

#include "prove/time.hpp"
#include "support.hpp"

using namespace lanyard;
using namespace lanyard::test;

namespace {

std::string verdict(const Model& m, int condition) {
    const TimeVerdict v = time_goes_on(m, condition, -1, {});
    if (const auto* unknown = std::get_if<TimeUnknown>(&v)) return "unknown: " + unknown->reason;
    return std::holds_alternative<TimeGoesOn>(v) ? "goes on" : "stops";
}

}  // namespace

TEST_CASE("time can always go on") {
    for (const ModelFile& file : all_models()) {
        for (int condition = 0; condition < 2; ++condition) {
            INFO(file.path << " under " << file.model.conditions[static_cast<std::size_t>(condition)].name);
            const bool stops = file.path.ends_with("-beyond-the-claim.json");
            CHECK(verdict(file.model, condition) == (stops ? "stops" : "goes on"));
        }
    }
}

TEST_CASE("time that stops is found", "[short]") {
    const Model m = model_of(
        "'quantities': {'x': {'range': '0 .. 5 V', 'follows': [{'changes': '100 .. 200 V/s'}]}}, "
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
}
