// Damaged models: whatever happens to a file, the answer is a model or an error in words.
#include <catch2/catch.hpp>
#include <random>

#include "base/file.hpp"
#include "helpers.hpp"

using namespace lanyard::model;
using namespace lanyard::test;

namespace {

std::string damaged(std::string text, std::mt19937& random) {
    const std::string pieces = "{}[]\",:()<>=%.-+ aA0_\\/\n\xC3\xA9";
    for (int n = 1 + static_cast<int>(random() % 3); n > 0; --n) {
        const std::size_t at = random() % text.size();
        const std::size_t length = random() % 8;
        const std::size_t from = random() % text.size();
        switch (random() % 4) {
            case 0:
                text.erase(at, length);
                break;
            case 1:
                text.insert(at, 1, pieces[random() % pieces.size()]);
                break;
            case 2:
                text[at] = pieces[random() % pieces.size()];
                break;
            default:
                text.insert(at, text.substr(from, length * 4));
                break;
        }
    }
    return text;
}

}  // namespace

TEST_CASE("damaged files are models or errors in words") {
    const char* file = GENERATE("silent.json", "wiring.json");
    const auto whole = read_file(source_dir / "tests/model/accepted" / file, 1U << 20U);
    REQUIRE(whole);
    std::mt19937 random(20);
    int models = 0;
    for (int i = 0; i < 1500; ++i) {
        const std::string text = damaged(*whole, random);
        const auto result = read_model("test.json", text);
        if (result.model) ++models;
        INFO(text);
        REQUIRE(result.model.has_value() != result.diagnostics.has_errors());
        REQUIRE((result.model || !render(result.diagnostics, result.source).empty()));
    }
    CHECK(models > 0);
    CHECK(models < 1000);
}
