// A set of rules that stops time would prove everything: in every model of the repository time can always go on.
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
            CHECK(verdict(file.model, condition) == "goes on");
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
    CHECK(verdict(m, condition_named(m, "any")) == "goes on");
}
