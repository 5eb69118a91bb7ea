// Every message is compared as a whole. The files in messages/ are named after the code of the message that they are
// about; a case in them is a line "VIEW: text" and, up to the next line of dashes, everything that is said about the
// text. VIEW is logic, claims or no_engine for an on/off expression, and value for one of any type; duty, degC and K
// for expressions of that type, time and range for single numbers and intervals, own for an interval of any unit.

#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <regex>
#include <set>
#include <sstream>
#include <stdexcept>

#include "car.hpp"

using namespace lanyard::lang;
using namespace lanyard::test;
namespace fs = std::filesystem;

namespace {

std::string content_of(const fs::path& file) {
    std::ostringstream out;
    out << std::ifstream(file).rdbuf();
    return out.str();
}

struct Case {
    std::string view;
    std::string text;
    std::string expected;
};

std::vector<Case> cases_in(const fs::path& file) {
    std::vector<Case> cases;
    std::istringstream in(content_of(file));
    std::string line;
    bool first = true;
    while (std::getline(in, line)) {
        if (line == "----") {
            first = true;
        } else if (first) {
            const std::size_t colon = line.find(": ");
            if (colon == std::string::npos) throw std::runtime_error(file.string() + ": no view in: " + line);
            cases.push_back({line.substr(0, colon), line.substr(colon + 2), ""});
            first = false;
        } else {
            cases.back().expected += line + "\n";
        }
    }
    return cases;
}

std::string said_about(const Case& c) {
    const auto numbers = [&](auto compile_it) {
        Diagnostics out;
        compile_it(located(c.text), out);
        return render(out, SourceText("car", c.text));
    };
    if (c.view == "time")
        return numbers([](const LocatedText& t, Diagnostics& out) {
            (void)compile_number(t, dimension("s"), true, "the scan period", out);
        });
    if (c.view == "accuracy")
        return numbers([](const LocatedText& t, Diagnostics& out) {
            (void)compile_number(t, dimension("K"), true, "the accuracy", out);
        });
    if (c.view == "range")
        return numbers([](const LocatedText& t, Diagnostics& out) {
            (void)compile_interval(t, dimension("psi"), true, "the range of oil", out);
        });
    if (c.view == "own")
        return numbers(
            [](const LocatedText& t, Diagnostics& out) { (void)compile_interval(t, "the range of boost", out); });
    const std::map<std::string, Type> wanted{{"duty", Type::number(dimension("%"), true)},
                                             {"degC", Type::number(dimension("degC"), false)},
                                             {"K", Type::number(dimension("K"), true)}};
    const std::map<std::string, View> views{{"logic", View::logic}, {"no_engine", View::no_engine}};
    Car car(views.count(c.view) ? views.at(c.view) : View::claims);
    if (c.view == "value") return compile_in(car, c.text).messages;
    return compile_in(car, c.text, wanted.count(c.view) ? wanted.at(c.view) : Type::boolean()).messages;
}

// All codes that the sources hand to an error function.
std::set<std::string> codes_in_sources() {
    std::set<std::string> codes;
    const std::regex call(R"x(error\(([^,]*),)x"), quoted(R"x("([a-z]+(-[a-z]+)+)")x");
    for (const auto& entry : fs::directory_iterator(LANG_SOURCES)) {
        const std::string text = content_of(entry.path());
        for (std::sregex_iterator it(text.begin(), text.end(), call), end; it != end; ++it) {
            const std::string argument = (*it)[1];
            for (std::sregex_iterator q(argument.begin(), argument.end(), quoted); q != end; ++q) codes.insert((*q)[1]);
        }
    }
    return codes;
}

}  // namespace

TEST_CASE("messages are what they were when somebody last read them") {
    const bool rewrite = std::getenv("REWRITE_MESSAGES") != nullptr;
    for (const auto& entry : fs::directory_iterator(MESSAGES_FOLDER)) {
        std::vector<Case> cases = cases_in(entry.path());
        const std::string code = "[" + entry.path().stem().string() + "]";
        INFO(entry.path().filename().string());
        REQUIRE_FALSE(cases.empty());
        std::string rewritten;
        for (const Case& c : cases) {
            INFO(c.view + ": " + c.text);
            const std::string said = said_about(c);
            CHECK(said.find(code) != std::string::npos);
            if (!rewrite) CHECK(said == c.expected);
            rewritten += (rewritten.empty() ? "" : "----\n") + c.view + ": " + c.text + "\n" + said;
        }
        if (rewrite) std::ofstream(entry.path()) << rewritten;
    }
}

TEST_CASE("every code has its messages") {
    const std::set<std::string> codes = codes_in_sources();
    CHECK(codes.size() >= 20);
    for (const std::string& code : codes) {
        INFO(code);
        CHECK(fs::exists(fs::path(MESSAGES_FOLDER) / (code + ".txt")));
    }
    for (const auto& entry : fs::directory_iterator(MESSAGES_FOLDER)) {
        INFO(entry.path().filename().string());
        CHECK(codes.count(entry.path().stem().string()) == 1);
    }
}
