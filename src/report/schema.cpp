// The published form of the result file. It uses only keywords that mean the same in draft-07 and in 2020-12.
#include "report/claim_words.hpp"
#include "report/findings.hpp"
#include "report/json.hpp"
#include "report/json_values.hpp"
#include "report/rules.hpp"

namespace lanyard {

namespace {

using report::Json;

Json text(const std::string& description) { return {{"type", "string"}, {"description", description}}; }

Json whole(const std::string& description, int least) {
    return {{"type", "integer"}, {"minimum", least}, {"description", description}};
}

Json number_pattern(const std::string& description) {
    return {{"type", "string"}, {"pattern", "^-?[0-9]+(\\.[0-9]+|/[0-9]+)?$"}, {"description", description}};
}

Json map_of(const Json& value, const std::string& description) {
    return {{"type", "object"}, {"additionalProperties", value}, {"description", description}};
}

Json texts(const std::string& description) {
    return {{"type", "array"}, {"items", {{"type", "string"}}}, {"description", description}};
}

Json reference(const std::string& name) { return {{"$ref", "#/definitions/" + name}}; }

Json object(const Json& properties, const std::vector<std::string>& required, const std::string& description) {
    return {{"type", "object"},
            {"description", description},
            {"properties", properties},
            {"required", required},
            {"additionalProperties", false}};
}

Json flags(const std::string& description) { return map_of({{"type", "boolean"}}, description); }

Json segment_schema() {
    Json p = Json::object();
    p["scan"] = whole("number of the segment's first scan", 0);
    p["time_s"] = number_pattern("its time in seconds");
    p["scans"] = whole("how many scans it lasts", 1);
    p["quantities"] = map_of(reference("number"), "physical quantities at the first scan, in the units of \"units\"");
    p["readings"] = map_of(reference("number"), "what each sensor tells the controller at the first scan");
    p["last_quantities"] =
        map_of(reference("number"), "at the last scan; on the way they move on straight lines. Missing: they stay");
    p["last_readings"] = map_of(reference("number"), "likewise for readings");
    p["positions"] = flags("true positions of hand switches");
    p["missed"] = texts("switches of which the old position is still seen");
    p["contacts"] = flags("where the contact of each relay is found");
    p["free_loads"] = flags("whether loads that nothing in the model feeds have power");
    p["wiring"] = flags("what the wiring feeds, as far as it is asked");
    p["faults"] = {{"type", "array"}, {"items", {{"type", "string"}}}, {"description", "faults that are there"}};
    p["booted"] = {{"type", "boolean"}, {"description", "the controller runs, where the model leaves that open"}};
    p["next_mode"] = {{"enum", {"stopped", "cranking", "running", "coasting"}},
                      {"description", "the engine's mode after each of these scans"}};
    p["claim_moves_on"] = {{"type", "boolean"},
                           {"description",
                            "the claim goes on behind this scan, where that is open: a step of the driver ends, the "
                            "driver begins, the window "
                            "of a change limit or a total begins, the state that is to be recovered from is there"}};
    return object(p, {"scan", "time_s", "scans", "quantities", "readings", "positions", "booted", "claim_moves_on"},
                  "equal scans: what the world and the driver chose");
}

Json run_schema() {
    return object(
        {{"scans", whole("length of the run", 0)}, {"segments", {{"type", "array"}, {"items", reference("segment")}}}},
        {"scans", "segments"}, "a run: everything that is not determined by the model");
}

Json certificate_schema() {
    return object({{"induction", whole("how many consecutive steps the induction takes", 1)},
                   {"lemmas", texts("conjuncts of the invariant, SMT-LIB 2.6")},
                   {"assumptions", texts("what the proof assumes of world, engine and condition")},
                   {"elements", texts("logic and outputs that the proof needs")},
                   {"unused_elements", texts("logic and outputs that could be anything")}},
                  {"induction", "lemmas", "assumptions", "elements", "unused_elements"},
                  "an invariant and what its proof rests on");
}

Json causes_schema() {
    const Json part = object({{"scan", whole("number of the scan", 0)},
                              {"time_s", number_pattern("its time in seconds")},
                              {"signal", text("which signal shows it; missing: none does")},
                              {"what", text("what was chosen, for people")},
                              {"instead", text("and what instead of it breaks nothing")}},
                             {"scan", "time_s", "what", "instead"}, "a choice of the run");
    const Json cause =
        object({{"parts", {{"type", "array"}, {"items", part}, {"minItems", 1}}}, {"otherwise", reference("run")}},
               {"parts"}, "what made the difference, and the run without it unless that is very long");
    return object({{"list", {{"type", "array"}, {"items", cause}}},
                   {"complete", {{"type", "boolean"}, {"description", "false: not all choices were tried"}}}},
                  {"list", "complete"}, "why the run breaks the claim: with one of these otherwise it does not");
}

Json needs(const std::string& verdict, const std::vector<std::string>& keys) {
    return {{"if", {{"properties", {{"verdict", {{"const", verdict}}}}}}}, {"then", {{"required", keys}}}};
}

Json claim_schema() {
    Json p = Json::object();
    p["id"] = text("the claim's name");
    p["kind"] = {{"enum", report::all_kinds()}};
    p["word"] = text("the word that it is written with; only where it is no kind (lanyard help words)");
    p["rule"] = text("the rule of a pack that it was made of; only where it was");
    p["condition"] = text("the condition under which it was judged");
    p["line"] = whole("where it stands in the model file", 0);
    p["column"] = whole("likewise", 0);
    p["verdict"] = {{"enum", {"proved", "refuted", "vacuous", "undecided"}}};
    p["summary"] = text("the heart of the verdict in one line, for people");
    p["engine"] = text("which of the engines found the verdict");
    p["leaps"] = {{"type", "boolean"}, {"description", "false: each step of the search was a single scan"}};
    p["certificate"] = reference("certificate");
    p["playbook"] = {{"type", "array"},
                     {"items", {{"type", "string"}}},
                     {"description", "of a recoverable claim: the steps that lead to its goal from everywhere"}};
    p["example"] = reference("run");
    p["run"] = reference("run");
    p["causes"] = reference("causes");
    p["others"] = {{"type", "array"},
                   {"items", object({{"run", reference("run")}, {"causes", reference("causes")}}, {"run", "causes"},
                                    "a run that breaks the claim for other reasons")}};
    p["remark"] = text("what else is to be said of a refutation");
    p["reason"] = text("vacuous: what cannot happen; undecided: which limit was hit");
    p["depth"] = whole("undecided: leaps up to which nothing was found", 0);
    Json out = object(p, {"id", "kind", "condition", "line", "column", "verdict", "summary", "leaps"},
                      "what was found of a claim");
    out["allOf"] = {needs("vacuous", {"reason"}), needs("undecided", {"reason", "depth"})};
    return out;
}

}  // namespace

std::string result_schema() {
    Json p = Json::object();
    p["lanyard_result"] = {{"const", 1}, {"description", "version of this format"}};
    p["model"] = object({{"name", text("as the file says")},
                         {"sha256", {{"type", "string"}, {"pattern", "^[0-9a-f]{64}$"}}},
                         {"scan_s", number_pattern("scan period in seconds")}},
                        {"name", "sha256", "scan_s"}, "which file was judged");
    p["lanyard"] = text("version of lanyard");
    p["solver"] = text("name and version of the solver");
    p["units"] = map_of({{"type", "string"}}, "quantities and readings: the unit of their numbers");
    p["rules"] = report::rules_schema();
    p["findings"] = report::findings_schema();
    p["claims"] = {{"type", "array"}, {"items", reference("claim")}};
    Json definitions = Json::object();
    definitions["number"] = number_pattern("an exact number: a decimal or a fraction");
    definitions["segment"] = segment_schema();
    definitions["run"] = run_schema();
    definitions["certificate"] = certificate_schema();
    definitions["causes"] = causes_schema();
    definitions["claim"] = claim_schema();
    Json out = {{"title", "Verdicts of lanyard"}};
    out.update(object(p, {"lanyard_result", "model", "lanyard", "solver", "units", "claims"},
                      "What `lanyard check --json` writes. Numbers are exact and therefore text."));
    out["definitions"] = definitions;
    return out.dump(2) + '\n';
}

}  // namespace lanyard
