// Words of the trade, and the published patterns of temporal properties, in front of the kinds of claims. Each word is
// written out here as a claim of exactly one kind, in the language of the model file with holes for its parameters.
// Reading, schema, `lanyard help words` and `lanyard claims` are made from this table.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "model/format.hpp"

namespace lanyard::model {

// What a word stands for when the keys `with` are there. A template may hold
//   {key}          the value of that key: an expression, or as the whole template anything else
//   {key OR ...}   the values of a list, joined (OR, AND)
//   {key, ...}     the same as the inputs of a vote: at least two
struct Expansion {
    std::vector<std::string> with;
    std::string kind;                                         // id of its ObjectHelp
    std::vector<std::pair<std::string, std::string>> fields;  // key of the kind, template
    // What has happened where the claim does not hold: plain words, in brackets templates of expressions that are true
    // then. Empty: the kind says it well enough.
    std::string failure = {};
};

struct Pattern {
    // The first key is the word. What stands as the default of an expression is that expression.
    ObjectHelp object;
    std::string source;                 // where it is published; empty: the trade's own
    std::vector<Expansion> expansions;  // the first one that has its keys counts
};

const std::vector<Pattern>& pattern_table();
const Pattern* find_pattern(const std::string& object_id);

// A piece of a template: plain text, or a hole.
struct TemplatePiece {
    std::string text;  // key of a hole
    bool hole = false;
    std::string joint;  // " OR ", " AND ", ", ": holes for lists
};
std::vector<TemplatePiece> template_pieces(const std::string& text);
// The key, if the template is one hole and nothing else; empty otherwise.
std::string only_hole(const std::string& text);

// The field of the kind; null if the word leaves it out.
const std::string* template_of(const Expansion& e, const std::string& key);
// Does the expansion read this key of the claim?
bool reads(const Expansion& e, const std::string& key);

// A claim in this word as JSON, made of the examples of its keys: those that this expansion needs.
std::string example_claim(const Pattern& p, const Expansion& e);
// Keys of the claim that the expansion cannot do without.
bool needs(const Pattern& p, const Expansion& e, const std::string& key);

namespace format {
std::vector<Pattern> trade_patterns();
std::vector<Pattern> temporal_patterns();
}  // namespace format

}  // namespace lanyard::model
