// lanyard case: judges like check, and shows the argument instead of the stories.
#include <unistd.h>

#include <iostream>

#include "cli/commands.hpp"
#include "cli/progress.hpp"
#include "cli/terminal.hpp"

namespace lanyard::cli {

Exit case_command(const CommandLine& line) {
    auto loaded = load_or_complain(line);
    if (const Exit* exit = std::get_if<Exit>(&loaded)) return *exit;
    const api::Model& model = std::get<api::Model>(loaded);
    api::CheckOptions options;
    options.outputs.safety_case = true;
    if (auto error = read_judging(line, options)) return complain(*error);

    ProgressLine progress(is_terminal(STDERR_FILENO));
    const auto report = watched(progress, options, [&] { return api::check(model, options); });
    if (report.keep_rejected) return complain(*report.keep_rejected);
    if (auto error = not_written(report)) return complain(*error);
    const std::string text = harmless(report.heading) + "\n\n" + report.safety_case.text + "\n" + report.closing + "\n";
    if (report.interrupted) {  // half an argument is shown, but it is not passed on
        std::cout << text;
        std::cerr << "lanyard: interrupted, so no file was written\n";
        return exit_of(report);
    }
    if (const Exit exit = deliver(line, text); exit != Exit::all_proved) return exit;
    std::vector<std::pair<std::string, std::string>> files;
    if (const auto file = line.text("--dot")) files.emplace_back(*file, report.safety_case.dot);
    if (const auto file = line.text("--record")) files.emplace_back(*file, report.safety_case.record);
    if (auto error = write_targets(files)) return complain(*error);
    return exit_of(report);
}

}  // namespace lanyard::cli
