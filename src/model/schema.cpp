// The table of format.hpp as a JSON Schema. Only keywords that mean the same in draft-07 and in 2020-12 are used;
// "definitions" is a plain pointer target in the latter.
#include <nlohmann/json.hpp>

#include "model/format.hpp"
#include "model/read.hpp"

namespace lanyard::model {

namespace {

using Json = nlohmann::ordered_json;

constexpr const char* name_pattern = "^[A-Za-z][A-Za-z0-9_]{0,63}$";

// "K1.welded", "any wire.open", an event.
constexpr const char* fault_pattern = "^(any [a-z_]+(\\.[a-z_]+)?|[A-Za-z][A-Za-z0-9_]*(\\.[A-Za-z0-9_]+)*)$";

Json text() { return {{"type", "string"}}; }
Json name() { return {{"type", "string"}, {"pattern", name_pattern}}; }
Json list_of(Json item) { return {{"type", "array"}, {"minItems", 1}, {"items", std::move(item)}}; }
Json one_or_list(const Json& item) { return {{"anyOf", Json::array({item, list_of(item)})}}; }
Json text_or_number_schema() { return {{"type", Json::array({"string", "number"})}}; }

Json reference(const std::string& id) { return {{"$ref", "#/definitions/" + id}}; }

// One of the kinds of objects, or the short form.
Json objects(const KeyHelp& key) {
    Json any = Json::array();
    if (key.shorthand == Shape::choice)
        any.push_back({{"enum", key.shorthand_choices}});
    else if (key.shorthand != Shape::none)
        any.push_back(text());
    for (const auto& id : key.objects) any.push_back(reference(id));
    if (any.size() == 1) return any.front();
    return {{"anyOf", any}};
}

// "note" is a comment in maps as well.
Json map_of(Json entry, Json names) {
    Json map{{"type", "object"}};
    map["properties"] = {{"note", text()}};
    map["propertyNames"] = std::move(names);
    map["additionalProperties"] = std::move(entry);
    return map;
}

Json value_schema(const KeyHelp& key) {
    switch (key.shape) {
        case Shape::none:
            return Json::object();
        case Shape::version:
            return {{"const", 1}};
        case Shape::text:
        case Shape::expression:
        case Shape::amount:
        case Shape::time:
        case Shape::times:
        case Shape::interval:
        case Shape::unit:
        case Shape::condition:
            return text();
        case Shape::name:
            return name();
        case Shape::names:
            return one_or_list(name());
        case Shape::expressions:
            return one_or_list(text());
        case Shape::flag:
            return {{"type", "boolean"}};
        case Shape::count:
            return {{"type", "integer"}, {"minimum", 0}, {"maximum", most_count}};
        case Shape::choice:
            return {{"enum", key.choices}};
        case Shape::steps:
            return list_of(text());
        case Shape::points:
            return {{"type", "array"}, {"minItems", 2}, {"items", text_or_number_schema()}};
        case Shape::cells:
            return list_of({{"anyOf", Json::array({text_or_number_schema(), list_of(text_or_number_schema())})}});
        case Shape::object:
            return objects(key);
        case Shape::map:
            return map_of(objects(key), {{"pattern", name_pattern}});
        case Shape::claim_map:
            return map_of(objects(key), {{"minLength", 1}, {"maxLength", 120}});
        case Shape::interval_map:
            return map_of(text(), {{"pattern", name_pattern}});
        case Shape::expression_map:
            return map_of(text(), {{"pattern", name_pattern}});
        case Shape::text_map:
            return map_of(text(), {{"minLength", 1}});
        case Shape::amount_maps:
            return map_of(map_of(text(), {{"pattern", name_pattern}}), {{"minLength", 1}});
        case Shape::list:
            return list_of(objects(key));
        case Shape::number:
            return text_or_number_schema();
        case Shape::fault_map:
            return map_of(objects(key), {{"pattern", fault_pattern}});
    }
    return Json::object();
}

// Keywords beside "$ref" are not looked at in draft-07, hence the detour.
Json described(Json schema, const KeyHelp& key) {
    if (schema.contains("$ref")) schema = {{"allOf", Json::array({schema})}};
    Json all;
    all["description"] = key.meaning + (key.default_text.empty() ? "" : " (without it: " + key.default_text + ")");
    if (!key.example.empty()) all["examples"] = Json::array({Json::parse(key.example)});
    all.update(schema);
    return all;
}

Json object_schema(const ObjectHelp& object) {
    Json schema{{"type", "object"}, {"description", object.title + ": " + object.meaning}};
    Json required = Json::array();
    for (const auto& k : object.keys) {
        schema["properties"][k.key] = described(value_schema(k), k);
        if (k.required) required.push_back(k.key);
    }
    if (!required.empty()) schema["required"] = required;
    schema["additionalProperties"] = false;
    return schema;
}

void add_definitions(Json& schema, const std::vector<std::string>& ids) {
    for (const auto& id : ids) schema["definitions"][id] = object_schema(object_help(id));
}

// The first object of the table is the file, the others are its parts.
Json schema_of(const std::vector<ObjectHelp>& table, const char* title) {
    Json schema{{"$schema", "http://json-schema.org/draft-07/schema#"}, {"title", title}};
    schema.update(object_schema(table.front()));
    std::vector<std::string> parts;
    for (std::size_t i = 1; i < table.size(); ++i) parts.push_back(table[i].id);
    add_definitions(schema, parts);
    return schema;
}

}  // namespace

std::string model_schema() { return schema_of(format_table(), "lanyard model").dump(2) + "\n"; }

std::string pack_schema() {
    Json schema = schema_of(pack_format_table(), "rule pack of lanyard");
    add_definitions(schema, claim_forms());
    return schema.dump(2) + "\n";
}

}  // namespace lanyard::model
