// Large files end in an answer. What is checked is the answer, not the time that it takes.
#include <catch2/catch.hpp>

#include "helpers.hpp"

using namespace lanyard::model;
using namespace lanyard::test;

namespace {

constexpr int many = 100'000;

std::string n(int i) { return std::to_string(i); }

std::string first_code_of(const ReadResult& r) {
    return r.diagnostics.list().empty() ? "" : r.diagnostics.list().front().code;
}

}  // namespace

TEST_CASE("a chain of a hundred thousand signals") {
    std::string body = "'inputs': { 'key': 'maintained' },\n'logic': {\n";
    for (int i = many; i > 0; --i) body += "'x" + n(i) + "': 'NOT x" + n(i - 1) + "',\n";
    body += "'x0': 'key' },\n'outputs': { 'lamp': 'x" + n(many) + "' }";
    const Model m = good(body);
    CHECK(m.logic.size() == many + 1);
    CHECK(m.order.size() == many + 2);
    CHECK(m.name_of(m.order.front()) == "x0");
    CHECK(m.name_of(m.order.back()) == "lamp");
}

TEST_CASE("a circle of a hundred thousand signals") {
    std::string body = "'logic': {\n";
    for (int i = 0; i < many; ++i) body += "'x" + n(i) + "': 'NOT x" + n((i + 1) % many) + "',\n";
    body += "'last': 'TRUE' }";
    const auto result = read_model("test.json", model_text(body));
    REQUIRE(result.diagnostics.list().size() == 1);
    CHECK(first_code_of(result) == "cycle");
    CHECK(result.diagnostics.list()[0].what.find("99940 more") != std::string::npos);
}

TEST_CASE("a hundred thousand misspelt names") {
    std::string body = "'logic': {\n";
    for (int i = 0; i < many; ++i) body += "'x" + n(i) + "': 'NOT y" + n(i) + "',\n";
    body += "'last': 'TRUE' }";
    const auto result = read_model("test.json", model_text(body));
    CHECK_FALSE(result.model);
    CHECK(first_code_of(result) == "unknown-name");
    REQUIRE(result.diagnostics.list().size() == 1001);
    CHECK(result.diagnostics.list().back().code == "too-many-problems");
}

TEST_CASE("a hundred thousand inputs, relays, loads and claims") {
    std::string body = "'inputs': {\n";
    for (int i = 0; i < many / 10; ++i)
        body += "'s" + n(i) + "': { 'switch': 'maintained', 'terminal': 'A" + n(i) + "' },\n";
    for (int i = 0; i < many / 10; ++i) body += "'b" + n(i) + "': { 'reads_back': 'o" + n(i) + "' },\n";
    body += "'key': 'maintained' },\n'outputs': {\n";
    for (int i = 0; i < many / 10; ++i)
        body += "'o" + n(i) + "': { 'on': 's" + n(i) + " AND b" + n(i) + " AND key', 'relay': 'r" + n(i) + "' },\n";
    body += "'lamp': 'key' },\n'relays': {\n";
    for (int i = 0; i < many / 10; ++i) body += "'r" + n(i) + "': { 'feeds': 'l" + n(i) + "' },\n";
    body += "'note': 'that is all' },\n'claims': {\n";
    for (int i = 0; i < many / 10; ++i) body += "'c" + n(i) + "': { 'possible': 'l" + n(i) + "' },\n";
    body += "'note': 'that is all' }";
    const Model m = good(body);
    CHECK(m.loads.size() == many / 10 + 1);
    CHECK(m.claims.size() == many / 10);
}

TEST_CASE("fifty megabytes") {
    const std::string note = "'note': '" + std::string(50'000'000, 'x') + "'";
    CHECK(good(note).name == "test");
    std::string notes = "'inputs': { 'key': 'maintained' }, 'logic': {\n";
    const std::string filler(400, '-');
    for (int i = 0; i < many; ++i) notes += "'x" + n(i) + "': { 'is': 'key', 'note': '" + filler + "' },\n";
    notes += "'x': 'key' }";
    CHECK(good(notes).logic.size() == many + 1);
}

TEST_CASE("beyond the limits") {
    const auto large = read_model("test.json", std::string(64U << 20U, ' ') + "{}");
    CHECK(first_code_of(large) == "file-too-large");
    std::string values = "{ \"lanyard\": 1, \"name\": \"test\", \"note\": [0";
    for (int i = 0; i < 2'000'000; ++i) values += ",0";
    CHECK(first_code_of(read_model("test.json", values + "] }")) == "too-many-values");
}
