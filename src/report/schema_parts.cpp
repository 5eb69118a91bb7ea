#include "report/schema_parts.hpp"

namespace lanyard::report::schema {

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

Json texts(const std::string& description) { return list_of({{"type", "string"}}, description); }

Json reference(const std::string& name) { return {{"$ref", "#/definitions/" + name}}; }

Json object(const Json& properties, const std::vector<std::string>& required, const std::string& description) {
    return {{"type", "object"},
            {"description", description},
            {"properties", properties},
            {"required", required},
            {"additionalProperties", false}};
}

Json flag(const std::string& description) { return {{"type", "boolean"}, {"description", description}}; }

Json list_of(const Json& item, const std::string& description) {
    return {{"type", "array"}, {"items", item}, {"description", description}};
}

Json one_of(const std::vector<std::string>& words, const std::string& description) {
    return {{"enum", words}, {"description", description}};
}

void add_head(Json& p) {
    p["model"] = object({{"name", text("as the file says")},
                         {"sha256", {{"type", "string"}, {"pattern", "^[0-9a-f]{64}$"}}},
                         {"scan_s", number_pattern("scan period in seconds")}},
                        {"name", "sha256", "scan_s"}, "which file was judged");
    p["lanyard"] = text("version of lanyard");
    p["solver"] = text("name and version of the solver");
}

namespace {

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
                   {"parts", texts("wires, fuses, switches, relays, loads, sensors ... that the proof needs")},
                   {"unused_elements", texts("logic and outputs that could be anything")}},
                  {"induction", "lemmas", "assumptions", "elements", "parts", "unused_elements"},
                  "an invariant and what its proof rests on");
}

}  // namespace

Json evidence_definitions() {
    Json out = Json::object();
    out["number"] = number_pattern("an exact number: a decimal or a fraction");
    out["segment"] = segment_schema();
    out["run"] = run_schema();
    out["certificate"] = certificate_schema();
    return out;
}

}  // namespace lanyard::report::schema
