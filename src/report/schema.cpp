// The published form of the result file. It uses only keywords that mean the same in draft-07 and in 2020-12.
#include "report/claim_words.hpp"
#include "report/findings.hpp"
#include "report/json.hpp"
#include "report/json_values.hpp"
#include "report/rules.hpp"
#include "report/schema_parts.hpp"

namespace lanyard {

namespace {

using namespace report::schema;

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
                  {"list", "complete"},
                  "why the run breaks the claim: with one of these otherwise it does not; of a trap: the goal can "
                  "still be reached");
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
    add_head(p);
    p["units"] = map_of({{"type", "string"}}, "quantities and readings: the unit of their numbers");
    p["rules"] = report::rules_schema();
    p["findings"] = report::findings_schema();
    p["claims"] = {{"type", "array"}, {"items", reference("claim")}};
    Json definitions = evidence_definitions();
    definitions["causes"] = causes_schema();
    definitions["claim"] = claim_schema();
    Json out = {{"title", "Verdicts of lanyard"}};
    out.update(object(p, {"lanyard_result", "model", "lanyard", "solver", "units", "claims"},
                      "What `lanyard check --json` writes. Numbers are exact and therefore text."));
    out["definitions"] = definitions;
    return out.dump(2) + '\n';
}

}  // namespace lanyard
