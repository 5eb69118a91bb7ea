// Rule packs: the rules of one book, class or authority.
#pragma once

#include <lanyard/call.hpp>
#include <variant>

namespace lanyard::api {

struct PackRole {
    std::string name;
    std::string kind;  // "quantity", "switch", "load", "output", "expression", "faults"
    std::string meaning;
    std::string dimension;  // of quantities; empty: any
};
struct PackParameter {
    std::string name;
    std::string value;
    std::string meaning;
};
struct PackClaim {
    std::string name;
    std::vector<std::pair<std::string, std::string>> keys;  // as written: "whenever", "NOT link"
};
struct PackRule {
    std::string id;  // "small-boats/fuel-pump-off"
    std::string requirement;
    std::string citation;
    std::string text_read;  // "primary", "secondary", "memory", "none"
    std::vector<std::string> roles;
    std::vector<PackParameter> parameters;
    std::vector<PackClaim> claims;
    std::string advice;
    std::string needs;                                           // "wiring": of models that have it
    std::vector<std::pair<std::string, std::string>> conflicts;  // the other rule, why
};
struct PackInspection {
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
    std::vector<PackRole> roles;
    std::vector<PackRule> rules;
    std::vector<PackInspection> inspect;
};

std::vector<std::string> shipped_packs();  // ids of the packs that are part of lanyard
// `name` as for load().
std::variant<Pack, Rejected> load_pack(const std::string& name);
// What a mark such as "secondary" says.
std::string text_read_words(const std::string& mark);

}  // namespace lanyard::api
