// test_cases {proved|refuted|undecided|any} FOLDER [EVERY]   verdicts of a folder's models
// test_cases jobs MODEL...                                   one thread and two say the same
// test_cases self-test                                       that this program notices what it is there to notice
#include <iostream>

#include "../scratch.hpp"
#include "folder.hpp"

namespace fs = std::filesystem;
namespace api = lanyard::api;
using namespace lanyard::test;

namespace {

constexpr const char* small_model = R"json({"lanyard": 1, "name": "two lamps",
 "inputs": {"key": "maintained"},
 "outputs": {"lamp": "key", "other": "NOT key"},
 "claims": {"never both": {"always": "NOT (lamp AND other)"}, "lit": {"possible": "lamp"}}})json";

bool mentions(const std::vector<std::string>& problems, const std::string& text) {
    for (const auto& p : problems)
        if (p.find(text) != std::string::npos) return true;
    std::cout << "not noticed: " << text << '\n';
    return false;
}

int self_test() {
    bool good = true;
    const auto with = [&](const std::string& expectation, api::Outcome outcome, const std::string& noticed) {
        const lanyard::test::Scratch s("cases");
        s.write("a.json", small_model);
        s.write("a.expect.json", expectation);
        const auto problems = check_folder({s.path, outcome, 1});
        good = (noticed.empty() ? problems.empty() : mentions(problems, noticed)) && good;
        for (const auto& p : problems) std::cout << "  " << p << '\n';
    };
    const std::string right = R"({"claims": {"never both": "proved", "lit": "proved"}})";
    with(right, api::Outcome::all_proved, "");
    with(right, api::Outcome::failed, "the whole file ends as 'all proved', not 'failed'");
    with(R"({"claims": {"never both": "refuted", "lit": "proved"}})", api::Outcome::all_proved, "not refuted");
    with(R"({"claims": {"never both": "proved"}})", api::Outcome::all_proved, "'lit' is not listed");
    with(R"({"claims": {"never both": "proved", "lit": "proved", "x": "proved"}})", api::Outcome::all_proved,
         "'x' is listed and not in the model");
    with(R"({"claims": {"never both": "proved", "lit": "proved"}, "worc": 1})", api::Outcome::all_proved, "'worc'");
    with("nonsense", api::Outcome::all_proved, "no expectation");
    {
        const lanyard::test::Scratch s("cases");
        good = mentions(check_folder({s.path, api::Outcome::all_proved, 1}), "no model in this folder") && good;
        s.write("b.txt", "");
        s.write("c.expect.json", right);
        const auto problems = check_folder({s.path, api::Outcome::all_proved, 1});
        good = mentions(problems, "b.txt: unknown file") && mentions(problems, "without its model") && good;
    }
    return good ? 0 : 1;
}

int report(const std::vector<std::string>& problems) {
    for (const auto& p : problems) std::cout << "WRONG: " << p << '\n';
    return problems.empty() ? 0 : 1;
}

}  // namespace

int main(int argc, char** argv) {
    const std::vector<std::string> words(argv + 1, argv + argc);
    if (words == std::vector<std::string>{"self-test"}) return self_test();
    if (words.size() < 2) return 2;
    if (words[0] == "jobs") {
        std::vector<std::string> problems;
        for (std::size_t i = 1; i < words.size(); ++i)
            for (auto& p : check_jobs(words[i])) problems.push_back(std::move(p));
        return report(problems);
    }
    Folder folder{words[1], std::nullopt, words.size() > 2 ? std::stoul(words[2]) : 1};
    if (words[0] == "proved") folder.outcome = api::Outcome::all_proved;
    if (words[0] == "refuted") folder.outcome = api::Outcome::failed;
    if (words[0] == "undecided") folder.outcome = api::Outcome::undecided;
    if (!folder.outcome && words[0] != "any") return 2;
    return report(check_folder(folder));
}
