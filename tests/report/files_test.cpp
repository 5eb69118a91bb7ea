#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <nlohmann/json.hpp>

#include "base/file.hpp"
#include "circuit/finding.hpp"
#include "report/claim_words.hpp"
#include "report/json.hpp"
#include "report/rules.hpp"
#include "report/run_files.hpp"
#include "report/schemas.hpp"
#include "report/terminal.hpp"
#include "support.hpp"

using namespace lanyard::report;
using namespace lanyard::test;
using Json = nlohmann::ordered_json;

namespace {

std::vector<ClaimResult> every_kind(const Model& m) {
    Playing fan(m, "fan on");
    fan.set("coolant_temperature", "20 degC").scans(2);
    fan.moving("coolant_temperature", "80 degC", 4).set("coolant_temperature", "90.5 degC").until_broken(3);
    Playing runs(m, "runs");
    runs.set("key", true).set("start", true).engine(Mode::running).until_broken(300);
    ClaimResult trap = result(m, "fan on", Refuted{fan.run(), Certificate{}, ""});
    trap.causes.emplace().of_trap = true;
    const ExprPtr part = m.logic[LogicId(0)].is;
    trap.causes->trap = {2, true, {part}, {Mode::running}};
    ClaimResult never = result(m, "it starts", Vacuous{"it cannot happen", Certificate{}});
    never.never = {{part, {}, Never::How::lasts, 1, {{part}}}};
    never.meant = Meant{m.claims[ClaimId(0)], true};
    return {fan.refuted("a remark"),
            result(m, "runs", Proved{std::nullopt, runs.run()}),
            proved(m, "trip holds", runs.run()),
            result(m, "it starts", Vacuous{"the condition allows no run", std::nullopt, runs.run()}),
            result(m, "oil cut", Undecided{"the work limit was hit", 3}),
            result(m, "runs", Refuted{std::nullopt, Certificate{}, ""}),
            trap,
            never};
}

std::string scratch(const std::string& name, const std::string& text) {
    const std::filesystem::path path = std::filesystem::path(REPORT_SCRATCH) / name;
    REQUIRE(write_file(path, text).empty());
    return path.string();
}

bool judged(const std::string& as, const std::string& file) {
    const std::string schema = scratch("result.schema.json", output_schema("result"));
    const std::string command = "/usr/bin/python3 " REPORT_TESTS "/schema_check.py " + schema + " " + as + " " + file;
    return std::system(command.c_str()) == 0;
}

}  // namespace

TEST_CASE("results as JSON") {
    Model m = model_from(kestrel());
    m.sha256 = std::string(64, '0');
    const std::string text = results_json(m, filmed(m, {every_kind(m)[0], every_kind(m)[4]}), versions());
    check_golden("results.json", text);
    CHECK(text == results_json(m, filmed(m, {every_kind(m)[0], every_kind(m)[4]}), versions()));
}

TEST_CASE("numbers are exact") {
    const Model m = model_from(R"({"lanyard": 1, "name": "m", "scan": "1 ms", "quantities": {"p": "0 .. 3 bar"},
        "claims": {"c": {"possible": "p > 1 bar"}}})");
    Run run;
    Segment s;
    s.first.quantities = {Rational(100000, 3)};
    s.scans = 7;
    s.last_quantities = {Rational(200000)};
    run.segments = {s, s};
    const Json file = Json::parse(run_json(m, run, ClaimId(0), versions()));
    CHECK(file["units"]["p"] == "bar");
    CHECK(file["scans"] == 14);
    CHECK(file["segments"][0]["quantities"]["p"] == "1/3");
    CHECK(file["segments"][1]["last_quantities"]["p"] == "2");
    CHECK(file["segments"][1]["time_s"] == "0.007");
}

TEST_CASE("every kind of result obeys the schema in both drafts") {
    const Model m = model_from(kestrel());
    CHECK(judged("good", scratch("good.json", results_json(m, filmed(m, every_kind(m)), versions()))));
    CHECK(judged("good", scratch("empty.json", results_json(m, {}, versions()))));
}

TEST_CASE("the words of the schema are those of the tables") {
    const Json schema = Json::parse(output_schema("result"));
    const Json& claim = schema["definitions"]["claim"]["properties"];
    CHECK(claim["kind"]["enum"] == Json(all_kinds()));
    Json verdicts, codes, levels, states, modes;
    for (const Verdict& v : {Verdict(Proved{}), Verdict(Refuted{}), Verdict(Vacuous{}), Verdict(Undecided{})})
        verdicts.push_back(verdict_name(v));
    CHECK(claim["verdict"]["enum"] == verdicts);
    for (const auto& row : finding_table()) codes.push_back(row.code);
    for (const auto level : {FindingLevel::warning, FindingLevel::hint}) levels.push_back(finding_level_word(level));
    const Json& finding = schema["properties"]["findings"]["items"]["properties"];
    CHECK(finding["code"]["enum"] == codes);
    CHECK(finding["level"]["enum"] == levels);
    for (const auto state :
         {RuleState::judged, RuleState::roles_missing, RuleState::engine_missing, RuleState::wiring_missing})
        states.push_back(state_name(state));
    CHECK(schema["properties"]["rules"]["properties"]["rules"]["items"]["properties"]["state"]["enum"] == states);
    for (const Mode m : all_modes) modes.push_back(mode_name(m));
    CHECK(schema["definitions"]["segment"]["properties"]["next_mode"]["enum"] == modes);
    CHECK(Json::parse(output_schema("faults"))["definitions"]["segment"] == schema["definitions"]["segment"]);
}

TEST_CASE("the schema refuses what is no result") {
    const Model m = model_from(kestrel());
    const Json good = Json::parse(results_json(m, filmed(m, every_kind(m)), versions()));
    const auto refused = [&good](const char* name, void (*spoil)(Json&)) {
        Json bad = good;
        spoil(bad);
        return judged("bad", scratch(name, bad.dump()));
    };
    CHECK(refused("bad-verdict.json", [](Json& j) { j["claims"][0]["verdict"] = "fine"; }));
    CHECK(refused("bad-number.json",
                  [](Json& j) { j["claims"][0]["run"]["segments"][0]["quantities"]["oil_pressure"] = 0.5; }));
    CHECK(refused("bad-reason.json", [](Json& j) { j["claims"][3].erase("reason"); }));
    CHECK(refused("bad-depth.json", [](Json& j) { j["claims"][4].erase("depth"); }));
    CHECK(refused("bad-trap.json", [](Json& j) { j["claims"][6]["trap"]["shut"].erase("scan"); }));
    CHECK(refused("bad-mode.json", [](Json& j) { j["claims"][6]["trap"]["lost_modes"][0] = "stopped"; }));
    CHECK(refused("bad-never.json", [](Json& j) { j["claims"][7]["never"][0]["because"][0].erase("text"); }));
    CHECK(refused("bad-meant.json", [](Json& j) { j["claims"][7]["perhaps_meant"]["verdict"] = "vacuous"; }));
    CHECK(refused("bad-key.json", [](Json& j) { j["time"] = 3; }));
    CHECK(refused("bad-hash.json", [](Json& j) { j["model"]["sha256"] = "abc"; }));
}

TEST_CASE("a run as files of its own") {
    Model m = model_from(kestrel());
    m.sha256 = std::string(64, '0');
    Playing p(m, "fan on");
    p.set("coolant_temperature", "20 degC").scans(2).set("coolant_temperature", "90.5 degC").until_broken(3);
    check_golden("run.json", run_json(m, p.run(), claim_named(m, "fan on"), versions()));
    check_golden("run.vcd", run_vcd(m, p.run(), claim_named(m, "fan on"), versions()));
}
