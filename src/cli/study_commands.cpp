// lanyard mutants, lanyard needs: what the claims that are proved are worth, and what their proofs rest on.

#include <iostream>

#include "cli/commands.hpp"
#include "cli/progress.hpp"
#include "cli/show.hpp"
#include "cli/terminal.hpp"

namespace lanyard::cli {

namespace {

// Shows what was found; the report, or how the command ends without one.
template <class Report>
std::variant<Report, Exit> study(const CommandLine& line,
                                 std::variant<Report, api::Rejected> (*ask)(const api::Model&,
                                                                            const api::StudyOptions&)) {
    auto loaded = load_or_complain(line);
    if (const Exit* exit = std::get_if<Exit>(&loaded)) return *exit;
    const api::Model& model = std::get<api::Model>(loaded);
    api::StudyOptions options;
    options.claims = line.texts("--claim");
    if (auto error = read_limits(line, options.limits)) return complain(*error);
    ProgressLine progress(progress_to(line));
    auto asked = watched(progress, options, [&] { return ask(model, options); });
    if (const auto* rejected = std::get_if<api::Rejected>(&asked)) return complain(*rejected);
    Report& report = std::get<Report>(asked);
    std::cout << model.heading() << "\n\n" << indented(report.text, "") << "\n" << api::closing() << "\n";
    if (report.interrupted) return Exit::interrupted;
    if (const auto file = line.text("--json"))
        if (auto error = write_targets({{*file, report.json}})) return complain(*error);
    return std::move(report);
}

}  // namespace

Exit mutants_command(const CommandLine& line) {
    const auto found = study(line, api::mutants);
    if (const Exit* exit = std::get_if<Exit>(&found)) return *exit;
    return std::get<api::MutantsReport>(found).judged ? Exit::all_proved : Exit::usage;
}

Exit needs_command(const CommandLine& line) {
    const auto found = study(line, api::needs);
    if (const Exit* exit = std::get_if<Exit>(&found)) return *exit;
    return std::get<api::NeedsOfProofs>(found).undecided ? Exit::undecided : Exit::all_proved;
}

}  // namespace lanyard::cli
