#include <algorithm>

#include "model/reader.hpp"

namespace lanyard::model {

namespace {

constexpr std::size_t longest_text = 100'000;

std::string value_words(const json::Value& v) {
    if (v.kind == json::Kind::flag) return v.flag ? "true" : "false";
    return json::kind_words(v.kind);
}

void wrong(Reading& reading, const KeyHelp& key, const json::Value& value, const std::string& pointer) {
    std::string why;
    if (value.kind == json::Kind::number && key.shape != Shape::version)
        why = "a bare number has no unit; numbers with units are texts, and exact";
    if (key.key == "scan" && (value.kind == json::Kind::array || value.kind == json::Kind::object)) {
        reading.error("one-controller", pointer, reading.place(value),
                      "a model has one controller with one scan period",
                      "how two controllers run relative to each other is not defined",
                      "write a model for each; what one tells the other is an input");
        return;
    }
    reading.error("wrong-json-type", pointer, reading.place(value),
                  "\"" + key.key + "\" is " + value_words(value) + ", but should be " + shape_words(key), why);
}

// Comments may have any length; what is read may not.
bool fits(Reading& reading, const KeyHelp& key, const json::Value& v, const std::string& pointer) {
    if (key.shape == Shape::text || v.text.size() <= longest_text) return true;
    reading.error("text-too-long", pointer, reading.place(v),
                  "this text has more than " + std::to_string(longest_text) + " bytes", "this is a limit of lanyard",
                  "name parts of an expression in \"logic\"");
    return false;
}

bool is_text(const json::Value& v) { return v.kind == json::Kind::string; }

// Digits alone: 2.0 and 2e1 are no counts.
bool check_count(Reading& reading, const KeyHelp& key, const json::Value& value, const std::string& pointer) {
    if (value.kind != json::Kind::number) {
        wrong(reading, key, value, pointer);
        return false;
    }
    const bool whole = value.text.find_first_not_of("0123456789") == std::string::npos;
    if (whole && value.text.size() <= 4 && std::stoi(value.text) <= most_count) return true;
    reading.error("bad-count", pointer, reading.place(value),
                  "\"" + key.key + "\" is " + quoted(value.text) + ", but should be a whole number from 0 to " +
                      std::to_string(most_count));
    return false;
}

bool check_choice(Reading& reading, const std::vector<std::string>& choices, const json::Value& value,
                  const std::string& pointer) {
    if (std::find(choices.begin(), choices.end(), value.text) != choices.end()) return true;
    std::string list;
    for (std::size_t i = 0; i < choices.size(); ++i)
        list += (i == 0 ? "\"" : i + 1 == choices.size() ? " or \"" : ", \"") + choices[i] + '"';
    reading.error("bad-choice", pointer, reading.place(value), quoted(value.text) + " is not one of the choices",
                  "it may be " + list, reading.suggestion(value.text, choices));
    return false;
}

// Every item must satisfy `right`; an empty list is wrong as well.
template <class F>
bool check_list(Reading& reading, const KeyHelp& key, const json::Value& value, const std::string& pointer, F&& right) {
    if (value.kind != json::Kind::array) {
        wrong(reading, key, value, pointer);
        return false;
    }
    if (value.items.empty()) {
        reading.error("empty-list", pointer, reading.place(value), "the list \"" + key.key + "\" is empty", "",
                      (key.required ? "write " : "leave the key out, or write ") + shape_words(key));
        return false;
    }
    bool good = true;
    for (std::size_t i = 0; i < value.items.size(); ++i) {
        const std::string here = json::child(pointer, i);
        const bool of_right_kind = right(value.items[i]);
        if (!of_right_kind) wrong(reading, key, value.items[i], here);
        good = of_right_kind && fits(reading, key, value.items[i], here) && good;
    }
    return good;
}

bool text_or_number(const json::Value& v) { return is_text(v) || v.kind == json::Kind::number; }

bool check_cells(Reading& reading, const KeyHelp& key, const json::Value& value, const std::string& pointer) {
    const auto line_or_cell = [](const json::Value& v) { return text_or_number(v) || v.kind == json::Kind::array; };
    if (!check_list(reading, key, value, pointer, line_or_cell)) return false;
    bool good = true;
    for (std::size_t i = 0; i < value.items.size(); ++i) {
        const auto& line = value.items[i];
        if (line.kind == json::Kind::array)
            good = check_list(reading, key, line, json::child(pointer, i), text_or_number) && good;
    }
    return good;
}

bool check_version(Reading& reading, const KeyHelp& key, const json::Value& value, const std::string& pointer) {
    if (value.kind == json::Kind::number && value.text == "1") return true;
    reading.error("wrong-version", pointer, reading.place(value), "lanyard cannot read this version",
                  "there is only one version of the format", "write \"" + key.key + "\": 1");
    return false;
}

bool expect(Reading& reading, const KeyHelp& key, const json::Value& value, const std::string& pointer, bool right) {
    if (!right) wrong(reading, key, value, pointer);
    return right;
}

bool check_object(Reading& reading, const KeyHelp& key, const json::Value& value, const std::string& pointer) {
    if (value.kind == json::Kind::object) return true;
    const bool short_form = is_text(value) && key.shorthand != Shape::none;
    if (short_form && key.shorthand == Shape::choice)
        return check_choice(reading, key.shorthand_choices, value, pointer);
    return expect(reading, key, value, pointer, short_form);
}

}  // namespace

bool check_shape(Reading& reading, const KeyHelp& key, const json::Value& value, const std::string& pointer) {
    if (!fits(reading, key, value, pointer)) return false;
    switch (key.shape) {
        case Shape::none:
            return false;
        case Shape::version:
            return check_version(reading, key, value, pointer);
        case Shape::text:
        case Shape::name:
        case Shape::expression:
        case Shape::amount:
        case Shape::time:
        case Shape::times:
        case Shape::interval:
        case Shape::unit:
        case Shape::condition:
            return expect(reading, key, value, pointer, is_text(value));
        case Shape::count:
            return check_count(reading, key, value, pointer);
        case Shape::number:
            return expect(reading, key, value, pointer, text_or_number(value));
        case Shape::flag:
            return expect(reading, key, value, pointer, value.kind == json::Kind::flag);
        case Shape::choice:
            return expect(reading, key, value, pointer, is_text(value)) &&
                   check_choice(reading, key.choices, value, pointer);
        case Shape::names:
        case Shape::expressions:
            return is_text(value) || check_list(reading, key, value, pointer, is_text);
        case Shape::steps:
            return check_list(reading, key, value, pointer, is_text);
        case Shape::points:
            return check_list(reading, key, value, pointer, text_or_number);
        case Shape::cells:
            return check_cells(reading, key, value, pointer);
        case Shape::list:
            return check_list(reading, key, value, pointer,
                              [](const json::Value& v) { return v.kind == json::Kind::object; });
        case Shape::object:
            return check_object(reading, key, value, pointer);
        case Shape::map:
        case Shape::claim_map:
        case Shape::interval_map:
        case Shape::expression_map:
        case Shape::text_map:
        case Shape::amount_maps:
        case Shape::fault_map:
            return expect(reading, key, value, pointer, value.kind == json::Kind::object);
    }
    return false;
}

}  // namespace lanyard::model
