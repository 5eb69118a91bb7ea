// The table of the format, and the schema that is made from it.
#include "model/format.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <set>

#include "model/codes.hpp"
#include "model/read.hpp"

using namespace lanyard;

TEST_CASE("every key is explained, every example is JSON") {
    std::set<std::string> ids;
    for (const auto& o : format_table()) {
        CHECK(ids.insert(o.id).second);
        CHECK_FALSE(o.title.empty());
        CHECK_FALSE(o.meaning.empty());
        std::set<std::string> keys;
        for (const auto& k : o.keys) {
            INFO(o.id << " " << k.key);
            CHECK(keys.insert(k.key).second);
            CHECK_FALSE(k.meaning.empty());
            CHECK_FALSE(shape_name(k.shape).empty());
            CHECK_FALSE(shape_words(k).empty());
            CHECK((k.example.empty() || nlohmann::json::accept(k.example)));
            if (k.shape == Shape::choice) CHECK_FALSE(k.choices.empty());
            CHECK((k.required || k.default_text != "?"));
        }
        CHECK(keys.count("note") == 1);
    }
    for (const auto& o : format_table())
        for (const auto& k : o.keys)
            for (const auto& id : k.objects) CHECK(ids.count(id) == 1);
}

TEST_CASE("the schema names every key of the table and nothing else") {
    const auto schema = nlohmann::json::parse(model_schema());
    CHECK(schema["$schema"] == "http://json-schema.org/draft-07/schema#");
    for (std::size_t i = 0; i < format_table().size(); ++i) {
        const auto& o = format_table()[i];
        const auto& s = i == 0 ? schema : schema["definitions"][o.id];
        CHECK(s["additionalProperties"] == false);
        CHECK(s["properties"].size() == o.keys.size());
        for (const auto& k : o.keys) {
            INFO(o.id << " " << k.key);
            CHECK(s["properties"].contains(k.key));
            CHECK(s["properties"][k.key].contains("description"));
        }
    }
    CHECK(schema["definitions"].size() + 1 == format_table().size());
}

TEST_CASE("limits are documented") { CHECK(limit_table().size() > 5); }
