// Whole texts for other programs, one claim of each verdict. That they are well-formed is tested in tests/outputs, by
// readers of others.
#include <catch2/catch.hpp>

#include "base/characters.hpp"
#include "report/account.hpp"
#include "report/graph.hpp"
#include "report/junit.hpp"
#include "report/record.hpp"
#include "report/safety_case.hpp"
#include "report/sarif.hpp"
#include "report/verdict_table.hpp"
#include "report/words.hpp"
#include "support.hpp"

using namespace lanyard::report;
using namespace lanyard::test;

namespace {

Model hashed() {
    Model m = model_from(kestrel(), "/home/somebody/cars/car.json");
    m.sha256 = std::string(64, '0');
    return m;
}

Playing broken(const Model& m) {
    Playing fan(m, "fan on");
    fan.set("coolant_temperature", "20 degC").scans(2).set("coolant_temperature", "90.5 degC").until_broken(3);
    return fan;
}

// "runs" is left out: it was not asked about.
std::vector<ClaimResult> one_of_each(const Model& m) {
    Playing runs(m, "runs");
    runs.set("key", true).set("start", true).engine(Mode::running).until_broken(300);
    return {result(m, "it starts", Vacuous{"the condition allows no run", std::nullopt, std::nullopt}),
            result(m, "oil cut", Undecided{"the work limit was hit", 3}), proved(m, "trip holds", runs.run()),
            broken(m).refuted()};
}

std::vector<EvidenceMark> marks(const Model& m) {
    std::vector<EvidenceMark> out;
    for (const char* id : {"it starts", "trip holds", "fan on"})
        out.push_back({claim_named(m, id), std::string("folder of ") + id, std::string(64, 'f')});
    return out;
}

const SafetyCase::Element& element(const SafetyCase& c, const std::string& beginning) {
    for (const auto& e : c.elements)
        if (e.statement.starts_with(beginning)) return e;
    FAIL("no element " << beginning);
    return c.elements.front();
}

bool has(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

}  // namespace

TEST_CASE("verdicts as JUnit, SARIF and CSV") {
    const Model m = hashed();
    const auto results = filmed(m, one_of_each(m));
    check_golden("verdicts.junit.xml", junit_xml(m, results, versions()));
    check_golden("verdicts.sarif", sarif_json(m, results, versions(), "cars/a b%.json"));
    check_golden("verdicts.csv", verdicts_csv(m, results));
    for (const auto& text :
         {junit_xml(m, results, versions()), sarif_json(m, results, versions(), "car.json"), verdicts_csv(m, results)})
        CHECK(!has(text, "somebody"));
}

TEST_CASE("the run against a claim, step by step, each with what it is about") {
    const Model m = hashed();
    const Account a = account_of(FilmedResult(m, broken(m).refuted()));
    REQUIRE(a.steps.size() == 2);
    CHECK(a.steps[0].time == "0.00 s");
    REQUIRE(a.steps[1].states.size() >= 2);
    CHECK(m.name_of(a.steps[1].states[0].signal) == "coolant_temperature");
    CHECK(a.steps[1].states[0].words == "coolant_temperature 90.5 degC");
    REQUIRE(a.broken.size() == 2);
    CHECK(a.broken[1] == "if everything stays as it is then, that is still so 3 min later");
    std::vector<std::string> hangs_on;
    for (const SignalId id : a.hangs_on) hangs_on.push_back(m.name_of(id));
    CHECK(hangs_on == std::vector<std::string>{"coolant_temperature", "coolant", "fan"});
    CHECK(account_of(FilmedResult(m, one_of_each(m)[1])).steps.empty());
}

TEST_CASE("where time stops the steps of the driver are in every account, as in the story") {
    const Model m = model_from(R"json({"lanyard": 1, "name": "m", "inputs": {"key": "maintained"},
        "outputs": {"lamp": "key"}, "claims": {"shines": {"procedure": ["set key", "wait 20 ms"], "ends_with": "lamp"}}})json");
    Playing p(m, "shines");
    p.scans(2);
    const FilmedResult r(m, result(m, "shines", Vacuous{"time stops", std::nullopt, p.run()}));
    const Account a = account_of(r);
    REQUIRE(a.steps.size() == 1);
    CHECK(a.steps[0].text == "step 1: key on: lamp on");
    CHECK(has(story(r), "step 1: key on"));
}

TEST_CASE("a fingerprint outlives what moves in the file, a name does not") {
    const auto print = [](const std::string& text) {
        const Model m = model_from(text);
        const std::string sarif =
            sarif_json(m, filmed(m, {result(m, "oil cut", Undecided{"", 0})}), versions(), "car.json");
        return sarif.substr(sarif.find("lanyardClaim/v1"), 90);
    };
    const std::string moved = "\n\n" + kestrel();
    std::string renamed = kestrel();
    renamed.replace(renamed.find("\"fan on\""), 8, "\"fan\"");
    CHECK(print(moved) == print(kestrel()));
    CHECK(print(renamed) == print(kestrel()));
    CHECK(print(kestrel()).size() == 90);
}

TEST_CASE("a safety case: what carries a goal, what speaks against it, what is open") {
    const Model m = hashed();
    const SafetyCase c = safety_case(m, filmed(m, one_of_each(m)), marks(m), versions());
    using Standing = SafetyCase::Standing;
    CHECK(c.elements.front().standing == Standing::not_met);
    CHECK(element(c, "trip holds").standing == Standing::met);
    CHECK(element(c, "fan on").standing == Standing::not_met);
    CHECK(element(c, "it starts").standing == Standing::not_met);  // vacuous
    CHECK(element(c, "oil cut").standing == Standing::open);
    CHECK(element(c, "oil cut").undeveloped);
    CHECK(element(c, "runs").undeveloped);
    CHECK(has(element(c, "runs").statement, "not judged"));
    check_golden("case.txt", safety_case_text(c));
    check_golden("case.dot", safety_case_dot(c, "Kestrel"));
    check_golden("record.txt", check_record(m, filmed(m, one_of_each(m)), marks(m), versions()));
}

TEST_CASE("a safety case without anything against it is as far as its weakest goal") {
    const Model m = hashed();
    Playing runs(m, "runs");
    runs.set("key", true).set("start", true).engine(Mode::running).until_broken(300);
    std::vector<ClaimResult> all;
    for (const auto& c : m.claims) all.push_back(proved(m, c.id, runs.run()));
    CHECK(safety_case(m, filmed(m, all), {}, versions()).elements.front().standing == SafetyCase::Standing::met);
    all.pop_back();
    CHECK(safety_case(m, filmed(m, all), {}, versions()).elements.front().standing == SafetyCase::Standing::open);
    const SafetyCase none = safety_case(model_from(R"({"lanyard": 1, "name": "none", "inputs": {"key": "maintained"},
        "outputs": {"lamp": "key"}})"),
                                        {}, {}, versions());
    CHECK(none.elements.front().undeveloped);
    CHECK(none.elements.front().standing == SafetyCase::Standing::open);
}

TEST_CASE("what feeds what") {
    const Model m = hashed();
    const SignalGraph g = signal_graph(m, {});
    std::vector<std::string> into_enable, into_loop;
    for (const auto& e : g.edges) {
        if (g.nodes[e.to].name == "enable") into_enable.push_back(g.nodes[e.from].name);
        if (g.nodes[e.to].name == "loop") into_loop.push_back(g.nodes[e.from].name + (e.a_scan_later ? " later" : ""));
    }
    CHECK(into_enable == std::vector<std::string>{"speed", "loop", "tripped"});
    CHECK(into_loop == std::vector<std::string>{"prime later"});
    check_golden("model.dot", signal_graph_dot(m, g));
    const SignalGraph part = signal_graph(m, claim_named(m, "fan on"));
    CHECK(part.nodes.size() < g.nodes.size());
}

TEST_CASE("marks that turn the direction of writing do not get into lines of text") {
    CHECK(sanitize_for_terminal("a\u202Eb\u2066c\u200Fd\te") == "a?b?c?d e");
    CHECK(sanitize_for_terminal("\u05D0 \U0001F527") == "\u05D0 \U0001F527");
}
