#include "helpers.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cstdlib>

#include "base/file.hpp"
#include "lang/print.hpp"

namespace lanyard::test {

using namespace model;

std::string model_text(const std::string& body) {
    return requoted("{ 'lanyard': 1, 'name': 'test',\n" + body + "\n}\n");
}

Model good(const std::string& body) { return model_from(model_text(body), "test.json"); }

std::vector<std::string> codes(const std::string& body) {
    const auto result = read_model("test.json", model_text(body));
    std::vector<std::string> all;
    for (const auto& d : result.diagnostics.list())
        all.push_back(d.code + " at " + std::to_string(d.place.line) + ":" + std::to_string(d.place.column));
    return all;
}

PackPtr yard() {
    const auto file = source_dir / "tests/model/packs/yard/pack.json";
    const auto text = read_file(file, 1U << 20U);
    REQUIRE(text);
    const PackResult result = read_pack("yard", "pack.json", *text);
    INFO(render(result.diagnostics, result.source));
    REQUIRE(result.pack != nullptr);
    return result.pack;
}

const Signal* signal_of_kind(const Model& m, const std::string& name, SignalKind kind) {
    for (const auto& s : m.signals)
        if (s.name == name && s.kind == kind) return &s;
    return nullptr;
}

const Quantity& quantity(const Model& m, const std::string& name) {
    const Signal* s = signal_of_kind(m, name, SignalKind::quantity);
    REQUIRE(s != nullptr);
    return m.quantities.at(s->index);
}

const Claim& claim(const Model& m, const std::string& id) {
    const auto at = std::find_if(m.claims.begin(), m.claims.end(), [&](const Claim& c) { return c.id == id; });
    REQUIRE(at != m.claims.end());
    return *at;
}

std::string text_of(const Model& m, const Expr& e) {
    return print(
        e, [&](SignalId id) { return m.name_of(id); }, [&](TableId id) { return m.tables.at(id).name; });
}

bool same_as_file(const std::string& text, const std::filesystem::path& file) {
    if (std::getenv("LANYARD_REWRITE_EXPECTED") != nullptr) return write_file(file, text).empty();
    const auto expected = read_file(file, 1U << 20U);
    if (!expected) FAIL("no file " << file.filename());
    CHECK(text == *expected);
    return text == *expected;
}

}  // namespace lanyard::test
