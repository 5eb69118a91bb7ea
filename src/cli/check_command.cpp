// lanyard check: the one command that judges.
#include <unistd.h>

#include <filesystem>
#include <iostream>

#include <lanyard/tables.hpp>

#include "cli/commands.hpp"
#include "cli/progress.hpp"
#include "cli/show.hpp"

namespace lanyard::cli {

namespace {

std::optional<UsageError> check_prover(const std::string& name) {
    std::vector<std::string> names;
    std::string all;
    for (const api::ProverRow& row : api::prover_table()) {
        if (row.name == name) return std::nullopt;
        names.push_back(row.name);
        all += (all.empty() ? "" : ", ") + row.name;
    }
    const auto near = api::nearest(name, names);
    return UsageError{"there is no prover \"" + harmless(name) + "\"",
                      near ? "did you mean " + *near + "?" : "it is one of: " + all};
}

// Which claims are wanted; none: all of them.
std::variant<std::vector<std::string>, UsageError> claims_of(const CommandLine& line, const api::Model& model) {
    std::vector<std::string> wanted = line.texts("--claim");
    if (line.has("--rules-only")) {
        if (!wanted.empty()) return UsageError{"--claim and --rules-only cannot be combined", "use one of them"};
        if (!line.has("--rules")) return UsageError{"--rules-only needs --rules", "lanyard help rules"};
        for (const api::ClaimInfo& claim : model.claims())
            if (!claim.rule.empty()) wanted.push_back(claim.id);
        if (wanted.empty())
            return UsageError{"no rule applies to this model, so there is nothing to judge",
                              "lanyard help rules explains how its signals play roles"};
    }
    if (model.claims().empty())
        return UsageError{"the model has no claims, so there is nothing to judge",
                          "lanyard help claims explains how to write one"};
    if (auto error = check_claim_ids(model, wanted)) return *error;
    return wanted;
}

std::variant<api::CheckOptions, UsageError> options_of(const CommandLine& line, const api::Model& model) {
    auto claims = claims_of(line, model);
    if (const auto* error = std::get_if<UsageError>(&claims)) {
        std::cout << CheckText::rules(model.rules_text());  // they may tell why there is nothing to judge
        return *error;
    }
    api::CheckOptions options;
    options.claims = std::get<std::vector<std::string>>(std::move(claims));
    options.prover = line.text("--prover");
    if (options.prover)
        if (auto error = check_prover(*options.prover)) return *error;
    if (auto error = read_judging(line, options)) return *error;
    options.examples = line.has("--examples");
    if (auto count = line.count("--counterexamples")) {
        if (*count > 20) return UsageError{"--counterexamples cannot be " + std::to_string(*count), "1 to 20"};
        options.counterexamples = static_cast<unsigned>(*count);
    }
    options.outputs.junit = line.has("--junit");
    options.outputs.sarif = line.has("--sarif");
    options.outputs.csv = line.has("--csv");
    options.outputs.waves = line.has("--vcd");
    return options;
}

// What was asked for beside the text. Half a check is not passed on to other programs.
std::optional<UsageError> write_results(const CommandLine& line, const std::string& heading,
                                        const api::CheckReport& report) {
    if (auto error = not_written(report)) return error;
    std::vector<std::pair<std::string, std::string>> files;
    const auto add = [&](const char* option, const std::string& text) {
        if (const auto file = line.text(option)) files.emplace_back(*file, text);
    };
    add("--json", report.json);
    add("--junit", report.junit);
    add("--sarif", report.sarif);
    add("--csv", report.csv);
    if (report.interrupted) {
        if (const auto folder = line.text("--vcd")) files.emplace_back(*folder, "");
        for (const auto& [name, text] : files) std::cerr << "lanyard: interrupted, so " << name << " was not written\n";
        return std::nullopt;
    }
    if (const auto folder = line.text("--vcd")) {
        std::vector<api::FolderFile> runs;
        for (const auto& [name, text] : report.waves) runs.push_back({name, text});
        const std::string readme = heading + "\n\nThe run of each refutation (lanyard help outputs).\n";
        if (const std::string wrong = api::write_folder(*folder, readme, runs); !wrong.empty())
            return UsageError{wrong, "the runs were not written"};
    }
    return write_targets(files);
}

}  // namespace

Exit check_command(const CommandLine& line) {
    auto loaded = load_or_complain(line);
    if (const Exit* exit = std::get_if<Exit>(&loaded)) return *exit;
    const api::Model& model = std::get<api::Model>(loaded);
    auto wanted = options_of(line, model);
    if (const auto* error = std::get_if<UsageError>(&wanted)) return complain(*error);
    auto& options = std::get<api::CheckOptions>(wanted);

    const bool on_terminal = is_terminal(STDOUT_FILENO);
    const CheckText text(line.text("MODEL").value_or(""), model.claims(),
                         Painter(wants_colour(line.text("--color").value_or("auto"))), on_terminal);
    ProgressLine progress(is_terminal(STDERR_FILENO));
    progress.print(harmless(model.heading()) + "\n\n");
    options.on_claim = [&](const api::ClaimReport& claim) { progress.print(text.line(claim)); };
    auto report = watched(progress, options, [&] { return api::check(model, options); });
    if (report.keep_rejected) return complain(*report.keep_rejected);
    for (api::ClaimReport& claim : report.claims)
        if (options.evidence && !claim.evidence.empty()) claim.evidence = (*options.evidence / claim.evidence).string();
    std::cout << text.after_lines(report) << std::flush;
    if (auto error = write_results(line, model.heading(), report)) return complain(*error);
    return exit_of(report);
}

}  // namespace lanyard::cli
