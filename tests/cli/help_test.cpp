// The help is complete: what stands in a table of the program stands in its topic.
#include <catch2/catch.hpp>
#include <set>
#include <sstream>

#include <lanyard/tables.hpp>

#include "cli/exit_codes.hpp"
#include "cli/help.hpp"
#include "cli/help_tables.hpp"
#include "cli/terminal.hpp"

namespace api = lanyard::api;
using namespace lanyard::cli;

namespace {

std::string topic(const std::string& name) {
    auto text = help_topic(name);
    REQUIRE(text);
    return *text;
}

void check_holds(const std::string& text, const std::string& what) {
    CAPTURE(what);
    CHECK(text.find(what) != std::string::npos);
}

}  // namespace

TEST_CASE("every topic of the overview has a text, and every text is a topic") {
    std::set<std::string> listed;
    for (const std::string& name : help_topics()) {
        CAPTURE(name);
        CHECK(listed.insert(name).second);
        CHECK(topic(name).size() > 100);
        check_holds(help_overview(), "  " + name);
    }
    for (const HelpText* t = help_texts; t->topic != nullptr; ++t) CHECK(listed.count(t->topic) == 1);
    CHECK_FALSE(help_topic("tuning"));
}

TEST_CASE("every table is shown, and no mark is left over") {
    std::set<std::string> used;
    for (const HelpText* t = help_texts; t->topic != nullptr; ++t) {
        const std::string raw = t->text;
        for (const std::string& mark : table_marks())
            if (raw.find("{{" + mark) != std::string::npos) used.insert(mark);
        CHECK(topic(t->topic).find("{{") == std::string::npos);
    }
    for (const std::string& mark : table_marks()) {
        CAPTURE(mark);
        CHECK(used.count(mark) == 1);
    }
}

TEST_CASE("help fits into 80 columns") {
    for (const std::string& name : help_topics()) {
        std::istringstream lines(topic(name));
        std::string line;
        while (std::getline(lines, line)) {
            CAPTURE(name, line);
            // A long word, such as an example, stands alone on its line.
            const bool one_word = line.find(' ', line.find_first_not_of(' ')) == std::string::npos;
            CHECK((width_of(line) <= 80 || one_word));
        }
    }
}

TEST_CASE("format: every object and every key") {
    const std::string text = topic("format");
    REQUIRE_FALSE(api::format_table().empty());
    for (const api::ObjectRow& object : api::format_table()) {
        check_holds(text, object.title);
        for (const api::KeyRow& key : object.keys) check_holds(text, "\"" + key.key + "\"");
    }
    REQUIRE_FALSE(api::quantity_table().empty());
    for (const api::QuantityRow& quantity : api::quantity_table()) check_holds(text, quantity.name);
    for (const std::string& word : api::reserved_words()) check_holds(text, word);
}

TEST_CASE("claims, conditions and engine show their own keys") {
    for (const char* kind : {"always", "response", "possible", "procedure", "recoverable", "change limit"})
        check_holds(topic("claims"), std::string("claim of the kind ") + kind);
    for (const char* key : {"\"base\"", "\"holds\"", "\"except\"", "\"faults\""}) check_holds(topic("conditions"), key);
    for (const char* key : {"\"fires_with\"", "\"coast_down\"", "\"catches_above\""}) check_holds(topic("engine"), key);
    for (const char* step :
         {"\"set SWITCH\"", "\"clear SWITCH\"", "\"wait TIME\"", "\"hold SWITCH", "\"press SWITCH\""})
        check_holds(topic("claims"), step);
}

TEST_CASE("wiring: every part with its keys; faults: every kind with its word") {
    const std::string wiring = topic("wiring");
    for (const api::ObjectRow& object : api::format_table()) {
        const bool part = object.keys.front().key == "is" && object.title != "logic expression";
        if (!part && object.title != "wire" && object.title != "wired input") continue;
        check_holds(wiring, object.title);
        for (const api::KeyRow& key : object.keys)
            if (key.key != "note") check_holds(wiring, "\"" + key.key + "\"");
    }
    const std::string faults = topic("faults");
    REQUIRE(api::fault_table().size() > 20);
    for (const api::FaultRow& row : api::fault_table()) {
        check_holds(faults, row.part + "\n");
        check_holds(faults, "  " + (row.word.empty() ? "NAME" : row.word) + " ");
    }
    for (const char* key : {"\"rate\"", "\"test_every\"", "\"reads\"", "\"comes_and_goes\"", "\"at_most\""})
        check_holds(faults, key);
}

TEST_CASE("words: every word with what it stands for, its keys, and the three manners of a response") {
    const std::string text = topic("words");
    std::string joined;  // without line breaks and indentation
    std::istringstream words(text);
    for (std::string word; words >> word;) joined += word + " ";
    REQUIRE(api::word_table().size() >= 18);
    for (const api::WordRow& row : api::word_table()) {
        check_holds(text, "\n  " + row.word + "\n");
        check_holds(joined, row.meaning);
        check_holds(joined, row.example);
        check_holds(text, "claim with the word \"" + row.word + "\"");
        for (const auto& e : row.expansions)
            for (const std::string& field : e.fields) check_holds(joined, field);
        for (const api::KeyRow& key : row.keys) check_holds(text, "\"" + key.key + "\"");
    }
    for (const char* manner : {"with \"whenever\"", "with \"once\"", "\"out_of\": \"60 ms\""})
        check_holds(text, manner);
    for (const char* manner : {"\"whenever\" ", "\"once\" ", "\"out_of\" "}) check_holds(topic("claims"), manner);
}

TEST_CASE("expressions: every element; units: every unit") {
    const std::string expressions = topic("expressions");
    REQUIRE_FALSE(api::element_table().empty());
    for (const api::ElementRow& element : api::element_table()) check_holds(expressions, element.form);
    const std::string units = topic("units");
    REQUIRE_FALSE(api::unit_table().empty());
    for (const api::UnitRow& unit : api::unit_table()) check_holds(units, "  " + unit.symbol + " ");
}

TEST_CASE("the rest: exit codes, diagnostics, search engines, limits, verdicts") {
    for (const ExitRow& row : exit_table()) check_holds(topic("exit-codes"), "  " + std::to_string(row.code) + " ");
    REQUIRE_FALSE(api::diagnostic_table().empty());
    for (const api::DiagnosticRow& row : api::diagnostic_table()) check_holds(topic("diagnostics"), row.code);
    for (const char* code : {"script-form", "script-name", "script-value", "script-time", "script-too-long",
                             "script-not-met", "script-stuck"})
        check_holds(topic("diagnostics"), code);
    REQUIRE_FALSE(api::prover_table().empty());
    for (const api::ProverRow& row : api::prover_table()) check_holds(topic("limits"), row.name);
    REQUIRE_FALSE(api::limit_table().empty());
    for (const char* verdict : {"proved", "REFUTED", "VACUOUS", "undecided"}) check_holds(topic("verdicts"), verdict);
}

TEST_CASE("findings: every code with its level, and where it comes from") {
    const std::string text = topic("findings");
    REQUIRE_FALSE(api::finding_table().empty());
    for (const api::FindingRow& row : api::finding_table())
        check_holds(text, "\n  " + row.code + "  (" + row.level + ")\n");
    check_holds(text, "33 CFR 183.425");
    check_holds(text, "Common practice, no source.");
}

TEST_CASE("help on a command shows every option") {
    for (const CommandRow& command : command_table()) {
        const std::string text = help_command(command);
        check_holds(help_overview(), command.name);
        for (const OptionRow& option : command.options) check_holds(text, "  " + option.name);
    }
}
