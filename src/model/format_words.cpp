#include "model/format.hpp"

namespace lanyard::model {

namespace {

std::string either(const std::vector<std::string>& words, const char* quote) {
    std::string all;
    for (std::size_t i = 0; i < words.size(); ++i) {
        if (i > 0) all += i + 1 == words.size() ? " or " : ", ";
        all += quote + words[i] + quote;
    }
    return all;
}

std::string with_example(const std::string& words, const KeyHelp& key) {
    return key.example.empty() ? words : words + " such as " + key.example;
}

}  // namespace

std::string with_article(const ObjectHelp& object) {
    if (object.id == "model" || object.id == "pack" || object.id == "engine" || object.id == "supply" ||
        object.id == "circuit")
        return "the " + object.title;
    const bool vowel = std::string("aeiou").find(object.title.front()) != std::string::npos;
    return (vowel ? "an " : "a ") + object.title;
}

std::string shape_words(const KeyHelp& key) {
    switch (key.shape) {
        case Shape::none:
            return "nothing";
        case Shape::version:
            return "the number 1";
        case Shape::text:
            return with_example("a text", key);
        case Shape::name:
            return with_example("a name", key);
        case Shape::names:
            return with_example("a name or a list of names", key);
        case Shape::expression:
            return with_example("an expression as a text,", key);
        case Shape::expressions:
            return with_example("an expression as a text, or a list of them,", key);
        case Shape::amount:
            return with_example("a number with its unit as a text,", key);
        case Shape::time:
        case Shape::times:
            return with_example("a time with its unit as a text,", key);
        case Shape::interval:
            return with_example("an interval with its unit as a text,", key);
        case Shape::unit:
            return with_example("a unit", key);
        case Shape::flag:
            return "true or false, without quotes";
        case Shape::count:
            return with_example("a whole number without quotes,", key);
        case Shape::choice:
            return either(key.choices, "\"");
        case Shape::condition:
            return with_example("a condition as a text,", key);
        case Shape::steps:
            return with_example("a list of steps", key);
        case Shape::points:
            return with_example("a list of at least two points", key);
        case Shape::cells:
            return with_example("a list of cells, or a list of lines of cells,", key);
        case Shape::object:
            if (key.shorthand != Shape::none) return with_example("an object or a text", key);
            return with_example("an object", key);
        case Shape::map:
        case Shape::claim_map:
        case Shape::interval_map:
        case Shape::expression_map:
        case Shape::text_map:
        case Shape::amount_maps:
        case Shape::fault_map:
            return with_example("an object with a name for each entry,", key);
        case Shape::list:
            return with_example("a list of objects", key);
        case Shape::number:
            return with_example("a number without a unit", key);
    }
    return "";
}

std::string shape_name(Shape shape) {
    switch (shape) {
        case Shape::none:
            return "";
        case Shape::version:
            return "number";
        case Shape::text:
            return "text";
        case Shape::name:
            return "name";
        case Shape::names:
            return "name or names";
        case Shape::expression:
            return "expression";
        case Shape::expressions:
            return "expression or list";
        case Shape::amount:
            return "number with unit";
        case Shape::time:
            return "time";
        case Shape::times:
            return "times";
        case Shape::interval:
            return "interval";
        case Shape::unit:
            return "unit";
        case Shape::flag:
            return "true or false";
        case Shape::count:
            return "whole number";
        case Shape::choice:
            return "choice";
        case Shape::condition:
            return "condition";
        case Shape::steps:
            return "steps";
        case Shape::points:
            return "points";
        case Shape::cells:
            return "cells";
        case Shape::object:
            return "object";
        case Shape::map:
        case Shape::claim_map:
            return "named objects";
        case Shape::interval_map:
            return "named intervals";
        case Shape::expression_map:
            return "named expressions";
        case Shape::text_map:
            return "named texts";
        case Shape::amount_maps:
            return "named values";
        case Shape::list:
            return "list of objects";
        case Shape::number:
            return "number";
        case Shape::fault_map:
            return "named objects";
    }
    return "";
}

}  // namespace lanyard::model
