// lanyard mutants, lanyard needs: what the claims that are proved are worth, and what their proofs rest on.

#include <iostream>

#include "cli/commands.hpp"
#include "cli/progress.hpp"
#include "cli/show.hpp"
#include "cli/terminal.hpp"

namespace lanyard::cli {

namespace {

// The model and what of the options every study takes; or how the command ends without them.
template <class Options>
std::variant<api::Model, Exit> begin(const CommandLine& line, Options& options) {
    auto loaded = load_or_complain(line);
    if (std::holds_alternative<Exit>(loaded)) return loaded;
    options.claims = line.texts("--claim");
    if (auto error = read_limits(line, options.limits)) return complain(*error);
    return loaded;
}

// Shows what was found; the report, or how the command ends without one. `before`: behind the heading.
template <class Report, class Options>
std::variant<Report, Exit> study(const CommandLine& line, const api::Model& model, Options& options,
                                 std::variant<Report, api::Rejected> (*ask)(const api::Model&, const Options&),
                                 const std::string& before = "") {
    ProgressLine progress(progress_to(line));
    auto asked = watched(progress, options, [&] { return ask(model, options); });
    if (const auto* rejected = std::get_if<api::Rejected>(&asked)) return complain(*rejected);
    Report& report = std::get<Report>(asked);
    std::cout << model.heading() << "\n\n" << before << indented(report.text, "") << "\n" << api::closing() << "\n";
    if (report.interrupted) return std::move(report);
    if (const auto file = line.text("--json"))
        if (auto error = write_targets({{*file, report.json}})) return complain(*error);
    return std::move(report);
}

}  // namespace

Exit mutants_command(const CommandLine& line, const std::optional<api::Parts>& parts) {
    api::MutantOptions options;
    const auto model = begin(line, options);
    if (const Exit* exit = std::get_if<Exit>(&model)) return *exit;
    auto share = read_share(line);
    if (const auto* error = std::get_if<UsageError>(&share)) return complain(*error);
    options.share = std::get<std::optional<api::Share>>(std::move(share));
    options.parts = parts;
    const std::string before = options.share ? mutants_share_text(*options.share) + "\n" : "";
    const auto found = study(line, std::get<api::Model>(model), options, api::mutants, before);
    if (const Exit* exit = std::get_if<Exit>(&found)) return *exit;
    const auto& report = std::get<api::MutantsReport>(found);
    if (auto error = part_not_written(report.part_error)) return complain(*error);
    if (report.interrupted) return Exit::interrupted;
    return report.judged ? Exit::all_proved : Exit::usage;
}

Exit needs_command(const CommandLine& line) {
    api::StudyOptions options;
    const auto model = begin(line, options);
    if (const Exit* exit = std::get_if<Exit>(&model)) return *exit;
    const auto found = study(line, std::get<api::Model>(model), options, api::needs);
    if (const Exit* exit = std::get_if<Exit>(&found)) return *exit;
    const auto& report = std::get<api::NeedsOfProofs>(found);
    if (report.interrupted) return Exit::interrupted;
    return report.undecided ? Exit::undecided : Exit::all_proved;
}

}  // namespace lanyard::cli
