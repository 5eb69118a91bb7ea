// The one description of the model file: which kinds of objects there are, which keys they have and what those mean.
// Reading, the JSON Schema and `lanyard help format` are all made from it.
#pragma once

#include <string>
#include <vector>

#include "base/layers.hpp"

namespace lanyard::model {

// What a value looks like in JSON.
enum class Shape {
    none,
    version,         // the number 1
    text,            // free text
    name,            // a name of the model
    names,           // a name, or a list of them
    expression,      // text
    expressions,     // an expression, or a list of them
    amount,          // number with unit
    time,            // amount of time
    times,           // "0.5 .. 2 s"; a single time T means 0 .. T
    interval,        // "-40 .. 150 degC"
    unit,            // symbol of a unit
    flag,            // true or false
    count,           // a whole number without quotes
    choice,          // one of `choices`
    condition,       // name of a condition, or the condition itself
    steps,           // list of texts
    points,          // list of amounts or numbers
    cells,           // list of amounts or numbers, or a list of such lists
    object,          // one of the kinds in `objects`
    map,             // names of the user's own, each with one of the kinds in `objects`
    claim_map,       // the same with free text as names
    interval_map,    // names of quantities, each with an interval
    expression_map,  // names, each with an expression
    text_map,        // free text, each with a text
    amount_maps,     // free text, each with names of their own and their amounts
    list,            // list of objects
    number,          // a plain number, with or without quotes
    fault_map,       // faults, kinds of them and events, each with an object
};

inline constexpr int most_count = 1000;

struct KeyHelp {
    std::string key;
    Shape shape = Shape::text;
    bool required = false;
    std::string meaning;
    std::string default_text;          // what holds without the key; empty = nothing
    std::string example;               // as JSON
    std::vector<std::string> choices;  // Shape::choice
    std::vector<std::string>
        objects;                    // Shape::object, map, list: ids of ObjectHelp. Several: the first key tells which
    Shape shorthand = Shape::none;  // the object (each object of the map) may be written as this instead
    std::vector<std::string> shorthand_choices;
};

struct ObjectHelp {
    std::string id;     // "sensor"
    std::string title;  // "sensor"
    std::string meaning;
    std::vector<KeyHelp> keys;
};

// The ids of the objects that a claim may be: the kinds, and the words that stand for claims of these kinds.
const std::vector<std::string>& claim_kinds();
const std::vector<std::string>& claim_words();
std::vector<std::string> claim_forms();  // both, in models and in rule packs

// All kinds, the whole file ("model") first. Every object may also have a "note".
const std::vector<ObjectHelp>& format_table();
// Those of a rule pack, the whole file ("pack") first; its claims are those of a model.
const std::vector<ObjectHelp>& pack_format_table();

const ObjectHelp& object_help(const std::string& id);

// "a sensor", "the engine"
std::string with_article(const ObjectHelp& object);

// "a time such as \"10 ms\"": what belongs there, in words.
std::string shape_words(const KeyHelp& key);

// "name", "time", "object": the short word of the key table in the help.
std::string shape_name(Shape shape);

}  // namespace lanyard::model
