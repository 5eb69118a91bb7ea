// Rule packs: what somebody demands of vehicles, as claims about roles. A model says which of its signals plays which
// role; the claims are then made of it as if they stood in its file (build_rules.cpp).
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "base/diagnostic.hpp"
#include "lang/units.hpp"
#include "model/json.hpp"
#include "model/reader.hpp"

namespace lanyard::model {

struct Role {
    std::string name;
    std::string kind;  // "quantity", "switch", "load", "output", "expression", "faults"
    std::string meaning;
    std::string dimension;  // of quantities; empty: any
};

struct Parameter {
    std::string name;
    std::string value;  // as written: "0.1 s", "8 .. 11 V"
    Dimension dimension;
    std::string meaning;
};

struct RuleClaim {
    std::string name;
    const json::Value* value = nullptr;  // in Pack::root
};

struct PackRule {
    std::string id;  // with its pack: "small-boats/fuel-pump-off"
    std::string requirement;
    std::string citation;
    std::string text_read;
    std::vector<std::string> roles;
    std::vector<Parameter> parameters;
    std::vector<RuleClaim> claims;
    std::string advice;
    std::string needs;                                           // "wiring": of models that have it
    std::vector<std::pair<std::string, std::string>> conflicts;  // id of the other rule, why
};

struct Inspection {
    std::string name;
    std::string what;
    std::string citation;
};

struct Pack {
    std::string id;
    std::string title;
    std::string publisher;
    std::string edition;
    std::string text_read;
    std::string scope;
    std::string sha256;
    std::vector<Role> roles;
    std::vector<PackRule> rules;
    std::vector<Inspection> inspect;
    json::Value root;
};
using PackPtr = std::shared_ptr<const Pack>;

struct PackResult {
    PackPtr pack;  // none if there are errors
    Diagnostics diagnostics;
    SourceText source;
};

// The id is the name of the pack's folder.
PackResult read_pack(const std::string& id, const std::string& shown_name, const std::string& text);

// Those that are part of the program, in the order of their names.
const std::vector<PackResult>& shipped_packs();

const Role* find_role(const Pack& pack, const std::string& name);
const PackRule* find_rule(const std::vector<PackPtr>& packs, const std::string& id);

// The id that a claim of a rule has in a model.
std::string rule_claim_id(const std::string& rule, const std::string& claim);

// The dimension of a number with its unit, or of an interval of such numbers; an error if it is neither.
std::optional<Dimension> amount_dimension(Reading& reading, const LocatedText& text);

// "the text itself was read" ...: what a mark says.
std::string text_read_words(const std::string& mark);

// JSON Schema of a pack, made from the tables that read_pack works from.
std::string pack_schema();

}  // namespace lanyard::model
