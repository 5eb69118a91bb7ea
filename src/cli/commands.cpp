#include "cli/commands.hpp"

#include <algorithm>
#include <iostream>
#include <sstream>

#include <lanyard/tables.hpp>

#include "cli/completion.hpp"
#include "cli/help.hpp"
#include "cli/show.hpp"
#include "cli/terminal.hpp"

namespace lanyard::cli {

Exit complain(const UsageError& error) {
    std::cerr << render(error);
    return Exit::usage;
}

Exit complain(const api::Rejected& rejected) {
    std::cerr << rejected.text;
    return rejected.because == api::Rejected::Because::content ? Exit::rejected : Exit::usage;
}

std::vector<std::string> packs_of(const CommandLine& line) {
    std::vector<std::string> packs;
    for (const std::string& given : line.texts("--rules")) {
        std::istringstream words(given);
        for (std::string word; std::getline(words, word, ',');)
            if (!word.empty()) packs.push_back(word);
    }
    return packs;
}

std::variant<api::Model, Exit> load_or_complain(const CommandLine& line) {
    auto loaded = api::load(line.text("MODEL").value_or(""), packs_of(line));
    if (const auto* rejected = std::get_if<api::Rejected>(&loaded)) return complain(*rejected);
    auto& model = std::get<api::Model>(loaded);
    std::cerr << model.warnings_text();
    return std::move(model);
}

Exit deliver(const CommandLine& line, const std::string& text) {
    if (auto file = line.text("--out")) {
        const std::string error = api::write_whole(*file, text);
        return error.empty() ? Exit::all_proved : complain(UsageError{error, "nothing was written"});
    }
    std::cout << text;
    return Exit::all_proved;
}

namespace {

std::string claim_text(const api::ClaimInfo& claim) {
    constexpr std::size_t left = 14;
    std::string text = harmless(claim.id) + "\n" + two_columns("  written", left, harmless(claim.written), narrow_page);
    if (!claim.pattern.empty()) text += two_columns("  word", left, claim.pattern, narrow_page);
    std::string label = "  stands for";
    for (const std::string& sentence : claim.stands_for) {
        text += two_columns(label, left, harmless(sentence), narrow_page);
        label.clear();
    }
    return text;
}

}  // namespace

Exit claims_command(const CommandLine& line) {
    auto loaded = load_or_complain(line);
    if (const Exit* exit = std::get_if<Exit>(&loaded)) return *exit;
    const auto& model = std::get<api::Model>(loaded);
    const std::vector<std::string> wanted = line.texts("--claim");
    if (auto wrong = api::unknown_claim(model, wanted)) return complain(*wrong);
    std::string text = model.heading() + "\n";
    for (const api::ClaimInfo& claim : model.claims())
        if (wanted.empty() || std::find(wanted.begin(), wanted.end(), claim.id) != wanted.end())
            text += "\n" + claim_text(claim);
    return deliver(line, text);
}

Exit findings_command(const CommandLine& line) {
    auto loaded = load_or_complain(line);
    if (const Exit* exit = std::get_if<Exit>(&loaded)) return *exit;
    const auto& model = std::get<api::Model>(loaded);
    const std::string seen = CheckText::findings(model.findings_text());
    return deliver(line, model.heading() + "\n" + (seen.empty() ? "\nNo mistakes were found in the wiring\n" : seen));
}

Exit graph_command(const CommandLine& line) {
    auto loaded = load_or_complain(line);
    if (const Exit* exit = std::get_if<Exit>(&loaded)) return *exit;
    const auto& model = std::get<api::Model>(loaded);
    auto text = api::signal_graph(model, line.text("--claim"));
    if (const auto* rejected = std::get_if<api::Rejected>(&text)) return complain(*rejected);
    return deliver(line, std::get<std::string>(text));
}

Exit run_command(const CommandLine& line) {
    auto model = load_or_complain(line);
    if (const Exit* exit = std::get_if<Exit>(&model)) return *exit;
    const std::string format = line.text("--format").value_or("table");
    const api::RunFormat as = format == "csv"   ? api::RunFormat::csv
                              : format == "vcd" ? api::RunFormat::vcd
                                                : api::RunFormat::table;
    auto played = api::run_script(std::get<api::Model>(model), line.text("--script").value_or(""), as);
    if (const auto* rejected = std::get_if<api::Rejected>(&played)) return complain(*rejected);
    std::cerr << std::get<api::Played>(played).warnings;
    const std::string& text = std::get<api::Played>(played).text;
    return deliver(line, as == api::RunFormat::csv ? csv_for(line, text) : text);
}

Exit schema_command(const CommandLine& line) {
    const std::string which = line.text("WHICH").value_or("");
    for (const api::SchemaRow& row : api::schema_table())
        if (row.name == which) std::cout << api::schema(row.of);
    return Exit::all_proved;
}

Exit export_command(const CommandLine& line) {
    auto model = load_or_complain(line);
    if (const Exit* exit = std::get_if<Exit>(&model)) return *exit;
    auto text = api::export_horn(std::get<api::Model>(model), line.text("--claim").value_or(""));
    if (const auto* rejected = std::get_if<api::Rejected>(&text)) return complain(*rejected);
    return deliver(line, std::get<std::string>(text));
}

Exit help_command_line(const CommandLine& line) {
    const std::string topic = line.text("TOPIC").value_or("");
    if (topic.empty()) {
        std::cout << help_overview();
        return Exit::all_proved;
    }
    const CommandRow* command = find_command(topic);
    // Some topics are called like a command; texts refer to the topic.
    if (auto text = help_topic(topic)) {
        std::cout << *text;
        if (command) std::cout << "\nThe command of that name: lanyard " << topic << " --help\n";
        return Exit::all_proved;
    }
    if (command) {
        std::cout << help_command(*command);
        return Exit::all_proved;
    }
    std::vector<std::string> known = help_topics();
    for (const CommandRow& row : command_table()) known.push_back(row.name);
    const auto near = api::nearest(topic, known);
    return complain(UsageError{"there is no help on " + harmless(topic),
                               near ? "did you mean " + *near + "?" : "lanyard help lists commands and topics"});
}

Exit run_command_line(const CommandLine& given) {
    const CommandLine line = with_log(given);
    if (line.version) {
        std::cout << "lanyard " << api::version() << ", " << api::solver_version() << '\n';
        return Exit::all_proved;
    }
    if (line.help) {
        std::cout << (line.command ? help_command(*line.command) : help_overview());
        return Exit::all_proved;
    }
    if (auto error = check_targets(line)) return complain(*error);
    if (auto error = start_log(line)) return complain(*error);
    const std::string& name = line.command->name;
    if (name == "check") return check_command(line);
    if (name == "case") return case_command(line);
    if (name == "card") return card_command(line);
    if (name == "claims") return claims_command(line);
    if (name == "faults") return faults_command(line);
    if (name == "findings") return findings_command(line);
    if (name == "graph") return graph_command(line);
    if (name == "report") return report_command(line);
    if (name == "run") return run_command(line);
    if (name == "schema") return schema_command(line);
    if (name == "export") return export_command(line);
    if (name == "rules") return rules_command(line);
    if (name == "merge") return merge_command(line);
    if (name == "needs") return needs_command(line);
    if (name == "mutants") return mutants_command(line);
    if (name == "why") return why_command(line);
    if (name == "help") return help_command_line(line);
    std::cout << bash_completion();
    return Exit::all_proved;
}

}  // namespace lanyard::cli
