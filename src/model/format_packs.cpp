// The file of a rule pack. What its claims look like stands with those of a model.
#include "lang/units.hpp"
#include "model/format_make.hpp"

namespace lanyard::model {

namespace format {

namespace {

KeyHelp text_read(const char* otherwise) {
    return choice("text_read", {"primary", "secondary", "memory", "none"},
                  "how well its text is known: read in the original, known from what others have written about it, "
                  "from memory, or common practice without a source",
                  otherwise);
}

ObjectHelp pack_object() {
    auto known = text_read("");
    known.required = true;
    return {"pack",
            "rule pack",
            "rules of one publisher, written as claims about roles that the signals of a model play",
            {needed("lanyard_rules", Shape::version, "version of this format; always 1", "1"),
             needed("title", Shape::text, "what the pack is called", R"("Small boats with petrol engines")"),
             needed("publisher", Shape::text, "who makes the rules", R"("a federal agency")"),
             needed("edition", Shape::text, "which edition of their text", R"("2024")"), known,
             needed("scope", Shape::text, "which vehicles, and which parts of them, it covers",
                    R"("inboard petrol engines")"),
             nested("roles", Shape::map, {"role"}, "what the rules are about; the names are shared by all packs",
                    R"({ "fuel_pump": { "kind": "load", "meaning": "the electric fuel pump" } })"),
             nested("rules", Shape::claim_map, {"rule"}, "the rules; their names are small letters, digits and hyphens",
                    R"({ "fuel-pump-off": { "requires": "...", "citation": "..." } })"),
             nested("inspect", Shape::claim_map, {"inspection"}, "what no model can show, to be inspected by hand",
                    R"({ "fuel lines": { "what": "the lines are of metal", "citation": "..." } })")}};
}

ObjectHelp role_object() {
    auto kind = choice("kind", {"quantity", "switch", "load", "output", "expression", "faults"},
                       "what may play it: a number, something that is on or off, or a list of faults", "");
    kind.required = true;
    return {"role",
            "role",
            "something that a rule is about",
            {kind, needed("meaning", Shape::text, "what it is, for whoever has to choose", R"("the main fuel pump")"),
             choice("dimension", dimension_names(), "of a quantity", "any")}};
}

ObjectHelp rule_object() {
    auto claims = nested("claims", Shape::claim_map, claim_forms(),
                         "what has to be proved, as in a model, with roles and parameters as names",
                         R"({ "off": { "always": "engine_speed = 0 rpm -> NOT fuel_pump" } })");
    claims.required = true;
    return {
        "rule",
        "rule",
        "one requirement: what it says, where it is written, and the claims that it makes",
        {needed("requires", Shape::text, "the requirement in your own words", R"("the pump stops with the engine")"),
         needed("citation", Shape::text, "where it is written", R"("section 5.2")"), text_read("that of the pack"),
         key("roles", Shape::names, "the roles that its claims use", "none", R"(["fuel_pump", "engine_speed"])"),
         nested("parameters", Shape::map, {"parameter"}, "values that a model may choose",
                R"({ "max_delay": { "default": "0.1 s", "meaning": "the rule gives no time" } })"),
         claims,
         key("advice", Shape::text, "what to do when it fails", "", R"("take the pump from a relay of its own")"),
         choice("needs", {"wiring"}, "what a model must have; otherwise the rule does not apply to it", "nothing"),
         key("conflicts_with", Shape::text_map, "rules that cannot be met together with this one, and why", "",
             R"({ "other-pack/fuel-pump-on": "one wants off what the other wants on" })")}};
}

}  // namespace

std::vector<ObjectHelp> pack_objects() {
    return {pack_object(),
            role_object(),
            rule_object(),
            {"parameter",
             "parameter",
             "a value that a model may choose (\"rule_values\")",
             {needed("default", Shape::amount, "its value unless a model gives another", R"("0.1 s")"),
              needed("meaning", Shape::text, "what it is, and who set the number", R"("ours: the rule has no time")")}},
            {"inspection",
             "inspection by hand",
             "something that no model can show",
             {needed("what", Shape::text, "what to look at", R"("the lines are of metal")"),
              needed("citation", Shape::text, "where it is written", R"("section 5.2")")}}};
}

}  // namespace format

const std::vector<ObjectHelp>& pack_format_table() {
    static const std::vector<ObjectHelp> table = [] {
        auto all = format::pack_objects();
        format::add_notes(all);
        return all;
    }();
    return table;
}

}  // namespace lanyard::model
