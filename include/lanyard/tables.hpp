// The tables that lanyard itself works from, as text for help, documentation, completion and tests. What is in no
// table here does not exist; what is in one is documented by it alone.
#pragma once

#include <string>
#include <vector>

#include <lanyard/export.hpp>

namespace lanyard::api {

// A key of an object of the model file.
struct KeyRow {
    std::string key;        // "senses"
    std::string takes;      // "name", "time": the short word for what belongs there
    bool required = false;  //
    std::string otherwise;  // what holds without it: "10 ms"; empty = nothing
    std::string meaning;    // "the quantity"
    std::string example;    // as JSON; may be empty
};
struct ObjectRow {
    std::string title;    // "sensor (input)"
    std::string meaning;  // "tells the controller a physical quantity"
    std::vector<KeyRow> keys;
};
// The whole file first.
std::vector<ObjectRow> format_table();
// Likewise the file of a rule pack; its claims are those of a model.
std::vector<ObjectRow> pack_format_table();

// A word in front of the kinds of claims, with what it stands for.
struct WordRow {
    std::string word;     // "cuts"
    std::string meaning;  // "takes the power from loads in time"
    std::string source;   // where it is published; empty: a word of the trade
    std::string example;  // a claim, as JSON
    struct Expansion {
        std::string with;                 // keys that choose it: "after, until"; empty: none of the others' keys
        std::vector<std::string> fields;  // "\"then\": NOT ({cuts OR ...})"
    };
    std::vector<Expansion> expansions;
    std::vector<KeyRow> keys;  // the word first
};
std::vector<WordRow> word_table();

// What can break of a kind of part.
struct FaultRow {
    std::string part;       // "wire": what it can happen to, and the word after `any`
    std::string word;       // "open": follows the part's name; empty: an event of the user's own
    std::string meaning;    //
    std::string value;      // key of the value that it may have: "reads"; may be empty
    std::string reference;  // where it is named outside of this program; may be empty
    std::string cure;       // what is usually done about it; may be empty
};
std::vector<FaultRow> fault_table();

// An operator, function or memory element of expressions.
struct ElementRow {
    std::string word;   // "TON", "AND", "->"
    std::string form;   // "TON(in, 1 s)"
    std::string group;  // "logic", "comparison", "arithmetic", "memory", "look-up" ...: rows of a group stand together
    std::string meaning;  // one sentence or two
};
std::vector<ElementRow> element_table();

struct UnitRow {
    std::string symbol;     // "psi"
    std::string dimension;  // "pressure"
    std::string meaning;    // "pound-force per square inch, gauge"
    std::string exactly;  // "44482216152605/6451600000 Pa": value of one in base units, with the offset if there is one
};
std::vector<UnitRow> unit_table();

struct DiagnosticRow {
    std::string code;      // "unknown-name"
    std::string severity;  // "error" or "warning"
    std::string meaning;   // what it means and what to do
};
std::vector<DiagnosticRow> diagnostic_table();

// What is seen in a wiring without any claim.
struct FindingRow {
    std::string code;     // "fuse-above-wire"
    std::string level;    // "warning" or "hint"
    std::string meaning;  // what is looked for and what is left out
    std::string source;   // where the rule is written; empty: common practice
};
std::vector<FindingRow> finding_table();

struct ProverRow {
    std::string name;     // what --prover takes
    std::string meaning;  // what it does and when it gives up
};
std::vector<ProverRow> prover_table();

// Files that have a JSON Schema.
struct SchemaRow {
    std::string name;  // "result"
    SchemaOf of;
    std::string meaning;  // which file
};
std::vector<SchemaRow> schema_table();

// Limits on size, depth and count.
struct LimitRow {
    std::string of;     // "size of the model file"
    std::string limit;  // "64 MB"
};
std::vector<LimitRow> limit_table();

// Standard quantities and their common-practice values.
struct QuantityRow {
    std::string name;     // "oil_pressure"
    std::string range;    // "0 .. 100 psi"
    std::string healthy;  // "stopped 0 .. 2 psi from 5 s (before: 0 .. 75 psi); cranking ..."; "-" if it has none
};
std::vector<QuantityRow> quantity_table();

// Words that cannot be names in a model.
std::vector<std::string> reserved_words();

}  // namespace lanyard::api
