// The table of the format, and the schema that is made from it.
#include "model/format.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <set>

#include "model/codes.hpp"
#include "model/packs.hpp"
#include "model/read.hpp"

using namespace lanyard::model;

TEST_CASE("every key is explained, every example is JSON") {
    std::set<std::string> ids;
    auto objects = format_table();
    objects.insert(objects.end(), pack_format_table().begin(), pack_format_table().end());
    for (const auto& o : objects) {
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
    for (const auto& o : objects)
        for (const auto& k : o.keys)
            for (const auto& id : k.objects) CHECK(ids.count(id) == 1);
}

namespace {

void check_schema(const nlohmann::json& schema, const std::vector<ObjectHelp>& table) {
    CHECK(schema.at("$schema") == "http://json-schema.org/draft-07/schema#");
    for (std::size_t i = 0; i < table.size(); ++i) {
        const auto& o = table[i];
        const auto& s = i == 0 ? schema : schema.at("definitions").at(o.id);
        CHECK(s.at("additionalProperties") == false);
        CHECK(s.at("properties").size() == o.keys.size());
        for (const auto& k : o.keys) {
            INFO(o.id << " " << k.key);
            CHECK(s.at("properties").contains(k.key));
            CHECK(s.at("properties").at(k.key).contains("description"));
        }
    }
}

}  // namespace

TEST_CASE("the schema names every key of the table and nothing else") {
    const auto model = nlohmann::json::parse(model_schema());
    check_schema(model, format_table());
    CHECK(model["definitions"].size() + 1 == format_table().size());
    const auto pack = nlohmann::json::parse(pack_schema());
    check_schema(pack, pack_format_table());
    CHECK(pack["definitions"].size() + 1 == pack_format_table().size() + claim_forms().size());
    for (const auto& kind : claim_kinds()) CHECK(pack["definitions"].contains(kind));
}

TEST_CASE("limits are documented") { CHECK(limit_table().size() > 5); }
