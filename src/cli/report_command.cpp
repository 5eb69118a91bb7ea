// lanyard report: judges like check, and writes a folder to be handed on.
#include <unistd.h>

#include <iostream>

#include "cli/commands.hpp"
#include "cli/progress.hpp"
#include "cli/show.hpp"
#include "cli/terminal.hpp"

namespace lanyard::cli {

namespace {

std::variant<api::CheckOptions, UsageError> report_options(const CommandLine& line, const api::Model& model) {
    if (model.claims().empty())
        return UsageError{"the model has no claims, so there is nothing to judge",
                          "lanyard help claims explains how to write one"};
    api::CheckOptions options;
    options.outputs = {.junit = true,
                       .sarif = true,
                       .csv = true,
                       .waves = true,
                       .safety_case = true,
                       .page = true,
                       .page_faults = line.has("--faults"),
                       .card = true};
    if (auto error = read_judging(line, options)) return *error;
    return options;
}

std::vector<api::FolderFile> files_of(const api::CheckReport& report) {
    std::vector<api::FolderFile> files{{"report.html", report.page},         {"verdicts.json", report.json},
                                       {"verdicts.xml", report.junit},       {"verdicts.sarif", report.sarif},
                                       {"verdicts.csv", report.csv},         {"case.txt", report.safety_case.text},
                                       {"case.dot", report.safety_case.dot}, {"record.txt", report.safety_case.record}};
    if (report.card) {
        files.push_back({"card.html", report.card->html});
        files.push_back({"card.csv", report.card->csv});
        files.push_back({"card.txt", report.card->text});
    }
    for (const auto& [name, text] : report.waves) files.push_back({"runs/" + name, text});
    return files;
}

}  // namespace

Exit report_command(const CommandLine& line) {
    auto loaded = load_or_complain(line);
    if (const Exit* exit = std::get_if<Exit>(&loaded)) return *exit;
    const api::Model& model = std::get<api::Model>(loaded);
    auto wanted = report_options(line, model);
    if (const auto* error = std::get_if<UsageError>(&wanted)) return complain(*error);
    auto& options = std::get<api::CheckOptions>(wanted);

    const CheckText text(line.text("MODEL").value_or(""), model.claims(), Painter(false), false);
    ProgressLine progress(is_terminal(STDERR_FILENO));
    progress.print(harmless(model.heading()) + "\n\n");
    options.on_claim = [&](const api::ClaimReport& claim) { progress.print(text.line(claim)); };
    const auto report = watched(progress, options, [&] { return api::check(model, options); });
    if (report.keep_rejected) return complain(*report.keep_rejected);
    std::cout << "\n" << text.summary(report) << report.closing << "\n" << std::flush;
    if (auto error = not_written(report)) return complain(*error);
    const std::string folder = line.text("--out").value_or("");
    if (report.interrupted) {  // half a report is not passed on
        std::cerr << "lanyard: interrupted, so nothing was written into " << harmless(folder) << "\n";
        return exit_of(report);
    }
    const std::string readme = model.heading() + "\n\nA report: open report.html (lanyard help report).\n";
    if (const std::string wrong = api::write_folder(folder, readme, files_of(report)); !wrong.empty())
        return complain(UsageError{wrong, "the report was not written"});
    return exit_of(report);
}

}  // namespace lanyard::cli
