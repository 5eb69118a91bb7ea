#include "cli/help.hpp"

#include <sstream>

#include "cli/help_tables.hpp"
#include "cli/terminal.hpp"

namespace lanyard::cli {

namespace {

struct TopicRow {
    const char* name;
    const char* meaning;
};
// Related topics are listed together: first how to write a model, then what it means, then what comes out.
constexpr TopicRow topics[] = {
    {"format", "the model file, key by key"},
    {"expressions", "how logic and claims are written"},
    {"units", "units of measurement and how they mix"},
    {"wiring", "the circuit: parts, wires, and how the controller is connected to them"},
    {"faults", "what can break, and how a condition allows it"},
    {"claims", "the kinds of claims and how their times are judged"},
    {"words", "words of the trade for claims, and what they mean"},
    {"conditions", "any, healthy and your own"},
    {"example", "the car that the examples of these texts are about"},
    {"rules", "rule packs: requirements by which a model is judged"},
    {"engine", "what the engine of a model can do"},
    {"meaning", "what a model means, scan by scan"},
    {"verdicts", "what each verdict means and how to read it"},
    {"exit-codes", "the exit codes and what they mean"},
    {"diagnostics", "every message about a file, by its code"},
    {"findings", "the mistakes that lanyard looks for in the wiring"},
    {"evidence", "what --evidence writes and how to check it"},
    {"outputs", "JUnit, SARIF, CSV, VCD and graphs, for other programs"},
    {"case", "the safety case, and a record to be signed"},
    {"card", "the bench-test card, and how to fill it in"},
    {"report", "the folder of a report: one page to hand on, and files for other programs"},
    {"mutants", "changes in the logic that no claim would notice"},
    {"needs", "which assumptions a proof cannot do without"},
    {"script", "scripts for lanyard run"},
    {"why", "why a signal is on or off, and what changed first"},
    {"limits", "limits, search engines and time"},
    {"merge", "one model on many machines, many models on many machines"},
    {"log", "why a claim takes long: what the provers do"},
    {"safety", "cautions, and what you have to trust"},
};

const char* raw_text(const std::string& topic) {
    for (const HelpText* t = help_texts; t->topic != nullptr; ++t)
        if (topic == t->topic) return t->text;
    return nullptr;
}

std::string filled(const std::string& text) {
    std::istringstream lines(text);
    std::string out, line;
    while (std::getline(lines, line)) {
        const bool mark = line.size() > 4 && line.starts_with("{{") && line.ends_with("}}");
        if (auto table = mark ? table_text(line.substr(2, line.size() - 4)) : std::nullopt) {
            out += *table;
            continue;
        }
        out += line + "\n";
    }
    return out;
}

// The usage, broken between options and never inside one.
std::string usage_block(const CommandRow& command) {
    const std::string head = "lanyard " + command.name;
    std::string text, line = head;
    for (const std::string& word : usage_words(command)) {
        if (line.size() + 1 + word.size() > narrow_page) {
            text += line + "\n";
            line = std::string(head.size(), ' ');
        }
        line += " " + word;
    }
    return text + line + "\n";
}

std::string option_head(const OptionRow& option) {
    if (option.positional() || option.takes == Takes::nothing) return option.name;
    return option.name + " " + option.value;
}

}  // namespace

std::vector<std::string> help_topics() {
    std::vector<std::string> names;
    for (const TopicRow& topic : topics) names.emplace_back(topic.name);
    return names;
}

std::optional<std::string> help_topic(const std::string& topic) {
    const char* text = raw_text(topic);
    if (!text) return std::nullopt;
    return filled(text);
}

std::string help_overview() {
    std::string text =
        "lanyard proves or refutes what you claim about the protection logic of a race\n"
        "engine, from a model of the controller, the wiring it drives and the engine.\n\n"
        "Commands\n";
    for (const CommandRow& command : command_table())
        text += two_columns("  " + command.name, 16, command.meaning, narrow_page);
    text += "  --version     Print the versions of lanyard and of its solver.\n";
    text += "\nTopics (lanyard help TOPIC)\n";
    for (const TopicRow& topic : topics)
        text += two_columns(std::string("  ") + topic.name, 16, topic.meaning, narrow_page);
    return text + "\nStart with: lanyard check demo/car.json\n";
}

std::string help_command(const CommandRow& command) {
    std::string text = wrapped(command.meaning, 0, narrow_page) + "\n" + usage_block(command);
    if (!command.more.empty()) text += "\n" + wrapped(command.more, 0, narrow_page);
    text += "\nOptions\n";
    for (const OptionRow& option : command.options) {
        std::string meaning = option.meaning;
        if (!option.choices.empty()) {
            meaning += " One of:";
            for (const std::string& choice : option.choices) meaning += " " + choice;
            meaning += ".";
        }
        text += two_columns("  " + option_head(option), 20, meaning, narrow_page);
    }
    text += "\nExamples\n";
    for (const std::string& example : command.examples) text += "  " + example + "\n";
    return text;
}

}  // namespace lanyard::cli
