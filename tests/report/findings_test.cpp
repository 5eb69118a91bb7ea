// What was seen in the wiring, as text and as JSON.
#include <catch2/catch.hpp>

#include "report/findings.hpp"
#include "report/json.hpp"
#include "support.hpp"

using namespace lanyard::report;
using namespace lanyard::test;

namespace {

const std::vector<WiringFinding> two{
    {FindingKind::fuse_above_wire,
     {4, 12, 1},
     "/circuit/parts/F1",
     "`F1` is larger than `W1` may carry",
     "it burns",
     "less"},
    {FindingKind::no_fuse, {11, 3, 1}, "/circuit/wires/W2", "no fuse stands there", "", ""}};

}  // namespace

TEST_CASE("findings as text: place, level, code, then why and what helps") {
    CHECK(findings_text(two) ==
          "4:12  warning: `F1` is larger than `W1` may carry [fuse-above-wire]\n"
          "      it burns\n"
          "      what helps: less\n"
          "11:3  hint: no fuse stands there [no-fuse]\n");
    CHECK(findings_text({}).empty());
}

TEST_CASE("findings as JSON: what is empty is left out") {
    const auto json = findings_json(two);
    REQUIRE(json.size() == 2);
    CHECK(json[0]["code"] == "fuse-above-wire");
    CHECK(json[0]["level"] == "warning");
    CHECK(json[0]["line"] == 4);
    CHECK(json[0]["why"] == "it burns");
    CHECK(json[1]["pointer"] == "/circuit/wires/W2");
    CHECK_FALSE(json[1].contains("hint"));
}

TEST_CASE("the key is there for a model with a circuit only") {
    const auto result = [](const std::string& circuit) {
        return Json::parse(
            results_json(model_from(R"({"lanyard": 1, "name": "m")" + circuit + "}"), {}, Versions{"0", "Z3"}));
    };
    CHECK_FALSE(result("").contains("findings"));
    const auto wired =
        result(R"(, "circuit": {"parts": {"b": "battery", "p": "load"}, "wires": {"W1": "b - p - ground"}})");
    REQUIRE(wired["findings"].size() == 1);
    CHECK(wired["findings"][0]["code"] == "no-fuse");
}
