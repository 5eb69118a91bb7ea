// Whole-text tests, found by folder: tests/cases/rejected holds files that are no models, tests/model/accepted files
// that are, each with everything that is said about it; tests/model/packs the same of models that are judged by a rule
// pack, and of files that are no packs. An empty folder or a file that belongs to nothing fails.
#include <algorithm>
#include <catch2/catch.hpp>
#include <fstream>
#include <set>
#include <sstream>

#include "helpers.hpp"
#include "model/codes.hpp"

using namespace lanyard::model;
using namespace lanyard::test;
namespace fs = std::filesystem;

namespace {

const fs::path rejected = source_dir / "tests/cases/rejected";
const fs::path accepted = source_dir / "tests/model/accepted";
const fs::path judged_models = source_dir / "tests/model/packs/models";
const fs::path no_packs = source_dir / "tests/model/packs/rejected";
const std::string ending = ".expect.txt";

std::string content(const fs::path& file) {
    std::ifstream in(file, std::ios::binary);
    std::ostringstream text;
    text << in.rdbuf();
    return text.str();
}

ReadResult read(const fs::path& file) { return read_model(file.filename().string(), content(file)); }

ReadResult read_judged(const fs::path& file) { return read_model(file.filename().string(), content(file), {yard()}); }
PackResult read_as_pack(const fs::path& file) {
    return read_pack(file.stem().string(), file.filename().string(), content(file));
}

std::vector<fs::path> models_in(const fs::path& folder) {
    std::set<fs::path> models;
    std::set<fs::path> expected;
    for (const auto& entry : fs::directory_iterator(folder)) {
        const std::string name = entry.path().filename().string();
        if (name.ends_with(ending))
            expected.insert(folder / (name.substr(0, name.size() - ending.size()) + ".json"));
        else if (name.ends_with(".json"))
            models.insert(entry.path());
        else
            FAIL("unknown file " << entry.path());
    }
    REQUIRE_FALSE(models.empty());
    for (const auto& e : expected)
        if (models.count(e) == 0) FAIL("a text without its model: " << e);
    return {models.begin(), models.end()};
}

fs::path expectation(const fs::path& model) { return fs::path(model).replace_extension("").string() + ending; }

}  // namespace

TEST_CASE("rejected files are rejected with these words") {
    for (const auto& file : models_in(rejected)) {
        INFO(file.filename());
        const auto result = read(file);
        CHECK_FALSE(result.model);
        CHECK(result.diagnostics.has_errors());
        CHECK(same_as_file(render(result.diagnostics, result.source), expectation(file)));
    }
}

TEST_CASE("accepted files are accepted with these words") {
    for (const auto& file : models_in(accepted)) {
        INFO(file.filename());
        const auto result = read(file);
        CHECK(result.model);
        CHECK_FALSE(result.diagnostics.has_errors());
        CHECK(same_as_file(render(result.diagnostics, result.source), expectation(file)));
    }
}

TEST_CASE("models that are judged by a rule pack are read with these words") {
    std::size_t good = 0;
    const auto files = models_in(judged_models);
    for (const auto& file : files) {
        INFO(file.filename());
        const auto result = read_judged(file);
        CHECK(result.model.has_value() != result.diagnostics.has_errors());
        good += result.model ? 1 : 0;
        CHECK(same_as_file(render(result.diagnostics, result.source), expectation(file)));
    }
    CHECK(good == 2);
}

TEST_CASE("files that are no rule packs are rejected with these words") {
    for (const auto& file : models_in(no_packs)) {
        INFO(file.filename());
        const auto result = read_as_pack(file);
        CHECK(result.pack == nullptr);
        CHECK(same_as_file(render(result.diagnostics, result.source), expectation(file)));
    }
}

TEST_CASE("messages are sorted by place and have a code from the table") {
    std::set<std::string> known;
    for (const auto& c : code_table()) {
        CHECK(known.insert(c.code).second);
        CHECK_FALSE(c.meaning.empty());
    }
    for (const auto& file : models_in(rejected)) {
        const auto result = read(file);
        const Diagnostic* before = nullptr;
        for (const auto& d : result.diagnostics.list()) {
            INFO(file.filename() << " " << d.code);
            CHECK(known.count(d.code) == 1);
            CHECK(d.place.line > 0);
            const bool sorted = before == nullptr || std::pair(before->place.line, before->place.column) <=
                                                         std::pair(d.place.line, d.place.column);
            CHECK(sorted);
            before = &d;
        }
    }
}

TEST_CASE("every code has a case") {
    // These need files that are too large to keep; limits_test.cpp makes them.
    std::set<std::string> seen = {"file-too-large", "too-many-values", "too-many-problems"};
    for (const auto& folder : {rejected, accepted})
        for (const auto& file : models_in(folder)) {
            const auto result = read(file);
            for (const auto& d : result.diagnostics.list()) seen.insert(d.code);
        }
    const auto note = [&](const Diagnostics& said) {
        for (const auto& d : said.list()) seen.insert(d.code);
    };
    for (const auto& file : models_in(judged_models)) note(read_judged(file).diagnostics);
    for (const auto& file : models_in(no_packs)) note(read_as_pack(file).diagnostics);
    for (const auto& code : seen) {
        INFO(code);
        CHECK(std::any_of(code_table().begin(), code_table().end(), [&](const auto& c) { return c.code == code; }));
    }
    for (const auto& c : code_table()) {
        INFO(c.code);
        CHECK(seen.count(c.code) == 1);
    }
}
