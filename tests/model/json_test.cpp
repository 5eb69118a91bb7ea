#include "model/json.hpp"

#include <catch2/catch.hpp>

using namespace lanyard::model;

namespace {

struct Parsed {
    SourceText source;
    Diagnostics out;
    std::optional<json::Value> value;
};

Parsed parsed(const std::string& text, json::Limits limits = {}) {
    Parsed p{SourceText("x.json", text), {}, {}};
    p.value = json::parse(p.source, limits, p.out);
    return p;
}

std::string first_code(const Parsed& p) { return p.out.list().empty() ? "" : p.out.list().front().code; }

}  // namespace

TEST_CASE("values know where they stand") {
    const std::string text = "{ \"a\" : [1.50, -2e-3 ,true],\n\t\"b\\u0041\":{\"c\":\"d\\ne\"}, \"n\":null}";
    const auto p = parsed(text);
    REQUIRE(p.value);
    const auto& members = p.value->members;
    REQUIRE(members.size() == 3);
    const auto at = [&](const json::Value& v) { return text.substr(v.offset, v.length); };
    CHECK(members[0].key == "a");
    CHECK(text.substr(members[0].key_offset, members[0].key_length) == "\"a\"");
    CHECK(at(members[0].value) == "[");
    CHECK(members[0].value.items[0].text == "1.50");
    CHECK(at(members[0].value.items[1]) == "-2e-3");
    CHECK(at(members[0].value.items[2]) == "true");
    CHECK(members[0].value.items[2].flag);
    CHECK(members[1].key == "bA");
    const auto& c = members[1].value.members[0].value;
    CHECK(c.text == "d\ne");
    CHECK(c.escaped);
    CHECK(at(c) == "\"d\\ne\"");
    CHECK(at(members[2].value) == "null");
    CHECK(p.source.place_of(members[1].key_offset) == Place{2, 2, 1});
}

TEST_CASE("numbers stay as they were written") {
    const auto p = parsed("[0.1, 12345678901234567890123, 1e99, -0.0, 1E+2]");
    REQUIRE(p.value);
    std::vector<std::string> texts;
    for (const auto& v : p.value->items) texts.push_back(v.text);
    CHECK(texts == std::vector<std::string>{"0.1", "12345678901234567890123", "1e99", "-0.0", "1E+2"});
}

TEST_CASE("duplicates are told apart by the object they stand in") {
    const auto p = parsed(R"({"a":{"x":1,"x":2},"b":{"x":3},"a":4})");
    REQUIRE(p.value);
    REQUIRE(p.out.list().size() == 2);
    CHECK(p.out.list()[0].pointer == "/a/x");
    CHECK(p.out.list()[1].pointer == "/a");
    CHECK(p.value->find("a")->value.members.size() == 2);
    CHECK(p.value->find("a")->value.find("x")->value.text == "1");
}

TEST_CASE("depth, count and size end in words") {
    const std::size_t deep = 3'000'000;
    CHECK(first_code(parsed(std::string(deep, '['))) == "too-deep");
    std::string objects;
    for (int i = 0; i < 100'000; ++i) objects += "{\"a\":";
    CHECK(first_code(parsed(objects)) == "too-deep");
    CHECK(first_code(parsed("[1,2,3,4,5]", {100, 64, 5})) == "too-many-values");
    CHECK(first_code(parsed("[1,2,3,4,5]", {100, 64, 6})).empty());
    CHECK(first_code(parsed("[1,2,3,4,5]", {10, 64, 6})) == "file-too-large");
    CHECK(first_code(parsed(std::string(64, '[') + std::string(64, ']'))).empty());
    CHECK(first_code(parsed(std::string(65, '[') + std::string(65, ']'))) == "too-deep");
}

TEST_CASE("what is not JSON text is said to be so") {
    CHECK(first_code(parsed("")) == "empty-file");
    CHECK(first_code(parsed("\xEF\xBB\xBF \n")) == "empty-file");
    CHECK(first_code(parsed(std::string("{}\0", 3))) == "nul-byte");
    CHECK(first_code(parsed("\"\xC0\x80\"")) == "not-utf-8");      // overlong, RFC 3629 section 3
    CHECK(first_code(parsed("\"\xED\xA0\x80\"")) == "not-utf-8");  // surrogate, RFC 3629 section 3
    CHECK(first_code(parsed("\"\xF4\x90\x80\x80\"")) == "not-utf-8");
    CHECK(first_code(parsed("\"\xE2\x82\"")) == "not-utf-8");
    const auto marked = parsed("\xEF\xBB\xBF{\"a\":1}");
    CHECK(first_code(marked) == "byte-order-mark");
    REQUIRE(marked.value);  // and reading goes on
    CHECK(marked.value->members[0].key_offset == 4);
}

TEST_CASE("cut anywhere, a file is an error in words and nothing worse") {
    const std::string whole = "{ \"a\": [1, -2.5e3, true, null, \"x\\u00e9\\n\"], \"b\": { \"c\": {} } }";
    for (std::size_t length = 0; length < whole.size(); ++length) {
        const auto p = parsed(whole.substr(0, length));
        INFO(length);
        CHECK_FALSE(p.value);
        REQUIRE(p.out.list().size() == 1);
        CHECK_FALSE(p.out.list()[0].what.empty());
        CHECK(p.out.list()[0].place.line == 1);
    }
}
