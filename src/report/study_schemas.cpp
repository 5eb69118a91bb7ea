// The published form of what the commands that look closer write as JSON: faults, why, mutants, needs.
#include "report/study_schemas.hpp"
#include "report/schema_parts.hpp"

namespace lanyard {

namespace {

using namespace report::schema;

std::string whole_schema(const std::string& title, const std::string& mark, const Json& properties,
                         std::vector<std::string> required, const std::string& description, const Json& definitions) {
    Json p = Json::object();
    if (!mark.empty()) p[mark] = {{"const", 1}, {"description", "version of this format"}};
    add_head(p);
    p.update(properties);
    required.insert(required.begin(), {"model", "lanyard", "solver"});
    if (!mark.empty()) required.insert(required.begin(), mark);
    Json out = {{"title", title}};
    out.update(object(p, required, description));
    if (!definitions.empty()) out["definitions"] = definitions;
    return out.dump(2) + '\n';
}

Json floating_text(const std::string& description) { return text(description + "; a floating-point number as text"); }

Json likelihood_schema() {
    const Json weight = object({{"fault", text("its name")},
                                {"birnbaum", floating_text("Birnbaum importance")},
                                {"criticality", floating_text("criticality importance")},
                                {"fussell_vesely", floating_text("Fussell-Vesely importance")}},
                               {"fault", "birnbaum", "criticality", "fussell_vesely"}, "how much hangs on a fault");
    return object({{"why_not", text("why nothing is known")},
                   {"exact", floating_text("probability of the top event")},
                   {"rare_event_sum", floating_text("sum over the sets")},
                   {"average_on_demand", floating_text("average over the hours")},
                   {"hours", floating_text("between two inspections")},
                   {"importance", list_of(weight, "by fault")}},
                  {}, "how likely it is that some set happens");
}

Json claim_faults_schema() {
    const Json set = object({{"faults", texts("that break the claim together")},
                             {"undone_by", texts("faults that make it hold again")},
                             {"undone_open", texts("faults of which that is undecided")},
                             {"run", reference("run")},
                             {"certificate", reference("certificate")}},
                            {"faults"}, "a minimal set, and what shows it");
    const Json order = object({{"order", whole("number of faults in a set", 1)},
                               {"complete", flag("no other set of so many breaks it: proved")},
                               {"certificate", reference("certificate")},
                               {"why_not", text("why that is not known")}},
                              {"order", "complete"}, "how far the list goes");
    return object({{"claim", text("its name")},
                   {"not_judged", text("why; then nothing else is said")},
                   {"sets", list_of(set, "minimal cut sets")},
                   {"orders", list_of(order, "by number of faults")},
                   {"alike", list_of(texts("names"), "faults that look the same to this claim")},
                   {"likelihood", likelihood_schema()}},
                  {"claim"}, "what breaks a claim");
}

}  // namespace

std::string faults_schema() {
    const Json effect = object({{"fault", text("its name")},
                                {"kind", text("what breaks (lanyard help faults)")},
                                {"part", text("of what")},
                                {"effect", text("on loads, for people")},
                                {"shows", text("where one sees it")}},
                               {"fault", "kind", "part", "effect", "shows"}, "what one fault does");
    return whole_schema("Faults and what they break, by lanyard", "",
                        {{"units", map_of({{"type", "string"}}, "quantities and readings: the unit of their numbers")},
                         {"claims", list_of(claim_faults_schema(), "in the order of the file")},
                         {"faults", list_of(effect, "that were asked about")}},
                        {"units", "claims", "faults"}, "What `lanyard faults --json` writes.", evidence_definitions());
}

std::string why_schema() {
    const Json reason = object({{"text", text("for people")},
                                {"since_s", number_pattern("since when, in seconds")},
                                {"because", list_of(reference("reason"), "what that hangs on")}},
                               {"text"}, "a link of the chain");
    const Json first = object({{"time_s", number_pattern("seconds")}, {"text", text("for people")}}, {"time_s", "text"},
                              "a condition at an end of the chain");
    const Json chain = list_of(reference("reason"), "a chain");
    return whole_schema("Why a signal is what it is, by lanyard", "lanyard_why",
                        {{"signal", text("which")},
                         {"time_s", number_pattern("the moment, in seconds")},
                         {"scan", whole("its scan", 0)},
                         {"state", text("what the signal is")},
                         {"since_s", number_pattern("since when, in seconds")},
                         {"because", chain},
                         {"came_about", chain},
                         {"first_out", list_of(first, "what went first")}},
                        {"signal", "time_s", "scan", "state", "because", "first_out"},
                        "What `lanyard why --json` writes.", {{"reason", reason}});
}

std::string mutants_schema() {
    const std::vector<std::string> fates = {"killed", "survived", "undecided", "equivalent"};
    const Json mutant = object({{"signal", text("whose definition is changed")},
                                {"kind", text("of change")},
                                {"what", text("the change, for people")},
                                {"line", whole("where it is in the model file", 0)},
                                {"column", whole("likewise", 0)},
                                {"fate", one_of(fates, "what the claims say to it")},
                                {"killed_by", text("the claim that fails")},
                                {"found_by", one_of({"run", "search"}, "how that was seen")},
                                {"undecided", texts("claims of which it is not known")}},
                               {"signal", "kind", "what", "line", "column", "fate"}, "a small change of the logic");
    Json p = {{"judged_by", texts("claims that are proved of the model itself")},
              {"left_out", texts("claims that are not")}};
    std::vector<std::string> required = {"judged_by", "left_out", "no_claim_needs", "mutants"};
    for (const auto& fate : fates) p[fate] = whole("how many", 0);
    required.insert(required.end(), fates.begin(), fates.end());
    p["no_claim_needs"] = texts("logic and outputs that no proof needs");
    p["mutants"] = list_of(mutant, "all of them");
    return whole_schema("Mutants of the logic, by lanyard", "lanyard_mutants", p, required,
                        "What `lanyard mutants --json` writes.", {});
}

std::string needs_schema() {
    const Json element =
        object({{"name", text("logic or output")}, {"needed_by_every_proof", flag("stuck, it breaks the claim")}},
               {"name", "needed_by_every_proof"}, "that the proof at hand needs");
    const Json assumption = object({{"what", text("for people")},
                                    {"need", one_of({"needed", "by itself", "spare", "unknown"},
                                                    "needed: no proof does without. spare: all of these can be taken "
                                                    "away at once. by itself: not together with those")}},
                                   {"what", "need"}, "something taken for granted");
    const Json claim = object({{"id", text("the claim's name")},
                               {"verdict", one_of({"proved", "refuted", "vacuous", "undecided"}, "of the model")},
                               {"elements", list_of(element, "of a proof")},
                               {"parts", texts("wires, switches, relays ... that the proof at hand needs")},
                               {"unused_elements", texts("that could be anything")},
                               {"assumptions", list_of(assumption, "of a proof")}},
                              {"id", "verdict", "elements", "assumptions"}, "what a proof needs");
    const Json assumed =
        object({{"what", text("for people")}, {"value", text("with its unit")}, {"where", text("it was written")}},
               {"what", "value", "where"}, "to be measured on the car");
    return whole_schema("What proofs need, by lanyard", "lanyard_needs",
                        {{"claims", list_of(claim, "in the order of the file")},
                         {"assumed", list_of(assumed, "all numbers that are taken for granted")}},
                        {"claims", "assumed"}, "What `lanyard needs --json` writes.", {});
}

}  // namespace lanyard
