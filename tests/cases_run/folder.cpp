#include "folder.hpp"

#include <chrono>
#include <fstream>
#include <iostream>
#include <map>
#include <nlohmann/json.hpp>
#include <set>

namespace lanyard::test {

namespace fs = std::filesystem;

namespace {

const std::string model_ending = ".json";
const std::string expect_ending = ".expect.json";

struct Expected {
    std::map<std::string, std::string> claims;
    std::optional<std::uint64_t> work;
    std::string problem;
};

fs::path expectation_of(const fs::path& model) { return fs::path(model).replace_extension().string() + expect_ending; }

Expected read_expected(const fs::path& file) {
    Expected out;
    std::ifstream in(file);
    const auto json = nlohmann::json::parse(in, nullptr, false);
    if (!json.is_object()) {
        out.problem = "no expectation beside it that is a JSON object";
        return out;
    }
    for (const auto& [key, value] : json.items()) {
        if (key == "claims" && value.is_object()) {
            for (const auto& [id, verdict] : value.items())
                out.claims[id] = verdict.is_string() ? verdict.get<std::string>() : verdict.dump();
        } else if (key == "work" && value.is_number_unsigned()) {
            out.work = value.get<std::uint64_t>();
        } else if (key != "note") {
            out.problem = "its expectation holds '" + key + "', which says nothing here";
        }
    }
    if (out.claims.empty()) out.problem = "its expectation lists no claim";
    return out;
}

// Models of a folder, sorted; whatever belongs to no model is a problem.
std::vector<fs::path> models_in(const Folder& folder, std::vector<std::string>& problems) {
    std::set<fs::path> models, expectations;
    std::error_code error;
    for (const auto& entry : fs::directory_iterator(folder.path, error)) {
        const std::string name = entry.path().filename().string();
        if (name.ends_with(expect_ending))
            expectations.insert(entry.path());
        else if (name.ends_with(model_ending))
            models.insert(entry.path());
        else if (folder.outcome)
            problems.push_back(name + ": unknown file");
    }
    if (models.empty()) problems.push_back(folder.path.string() + ": no model in this folder");
    for (const auto& m : models) expectations.erase(expectation_of(m));
    for (const auto& e : expectations) problems.push_back(e.filename().string() + ": an expectation without its model");
    return {models.begin(), models.end()};
}

std::string word(api::Outcome o) {
    switch (o) {
        case api::Outcome::all_proved:
            return "all proved";
        case api::Outcome::failed:
            return "failed";
        case api::Outcome::undecided:
            return "undecided";
        case api::Outcome::nothing:
            return "nothing";
    }
    return "";
}

void check_model(const fs::path& file, const Folder& folder, std::vector<std::string>& problems) {
    const std::string name = file.filename().string();
    const auto problem = [&](const std::string& text) { problems.push_back(name + ": " + text); };
    const Expected expected = read_expected(expectation_of(file));
    if (!expected.problem.empty()) return problem(expected.problem);
    const auto loaded = api::load(file);
    if (const auto* rejected = std::get_if<api::Rejected>(&loaded)) return problem("rejected\n" + rejected->text);
    api::CheckOptions options;
    options.limits.jobs = 1;
    options.limits.work = expected.work;
    api::Results report;
    try {
        report = std::get<api::Results>(api::check(std::get<api::Model>(loaded), options));
    } catch (const api::InternalError& e) {
        return problem(std::string("internal error: ") + e.what());
    }
    auto open = expected.claims;
    for (const auto& claim : report.claims) {
        const auto wanted = open.find(claim.id);
        const std::string got = api::verdict_word(claim.verdict);
        if (wanted == open.end()) {
            problem("claim '" + claim.id + "' is not listed");
            continue;
        }
        if (wanted->second != got)
            problem("claim '" + claim.id + "' is " + got + " (" + claim.summary + "), not " + wanted->second);
        open.erase(wanted);
    }
    for (const auto& [id, verdict] : open) problem("claim '" + id + "' is listed and not in the model");
    if (folder.outcome && report.outcome != *folder.outcome)
        problem("the whole file ends as '" + word(report.outcome) + "', not '" + word(*folder.outcome) + "'");
}

}  // namespace

std::vector<std::string> check_folder(const Folder& folder) {
    std::vector<std::string> problems;
    const auto models = models_in(folder, problems);
    std::size_t judged = 0;
    for (std::size_t i = 0; i < models.size(); i += folder.every, ++judged) {
        const auto start = std::chrono::steady_clock::now();
        check_model(models[i], folder, problems);
        const auto spent = std::chrono::steady_clock::now() - start;
        std::cout << models[i].filename().string() << ": "
                  << std::chrono::duration_cast<std::chrono::milliseconds>(spent).count() << " ms" << std::endl;
    }
    std::cout << judged << " models judged\n";
    return problems;
}

std::vector<std::string> check_jobs(const fs::path& model) {
    const auto loaded = api::load(model);
    if (const auto* rejected = std::get_if<api::Rejected>(&loaded)) return {rejected->text};
    const Expected expected = read_expected(expectation_of(model));
    std::string first;
    for (const unsigned jobs : {1U, 2U}) {
        api::CheckOptions options;
        options.limits.jobs = jobs;
        options.limits.work = expected.work;
        const auto checked = api::check(std::get<api::Model>(loaded), options);
        const std::string json = api::write(std::get<api::Results>(checked), api::Format::json);
        if (jobs == 1)
            first = json;
        else if (json != first || first.empty())
            return {model.filename().string() + ": two threads say something else than one"};
    }
    return {};
}

}  // namespace lanyard::test
