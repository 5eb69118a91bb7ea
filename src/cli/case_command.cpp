// lanyard case: judges like check, and shows the argument instead of the stories.

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
    if (auto error = read_keep(line, options)) return complain(*error);
    if (auto error = read_limits(line, options.limits)) return complain(*error);

    ProgressLine progress(progress_to(line));
    const auto checked = watched(progress, options, [&] { return api::check(model, options); });
    if (const auto* rejected = std::get_if<api::Rejected>(&checked)) return complain(*rejected);
    const auto& results = std::get<api::Results>(checked);
    if (auto error = write_judging(line, results)) return complain(*error);
    const std::string text =
        model.heading() + "\n\n" + api::write(results, api::Format::safety_case) + "\n" + api::closing() + "\n";
    if (results.interrupted) {  // half an argument is shown, but it is not passed on
        std::cout << text;
        std::cerr << "lanyard: interrupted, so no file was written\n";
        return Exit::interrupted;
    }
    if (const Exit exit = deliver(line, text); exit != Exit::all_proved) return exit;
    if (auto error =
            write_formats(line, results, {{"--dot", api::Format::safety_case_dot}, {"--record", api::Format::record}}))
        return complain(*error);
    return exit_of(results);
}

}  // namespace lanyard::cli
