// lanyard mutants: what somebody could change in the logic without a claim noticing.
#include <unistd.h>

#include <iostream>

#include "cli/commands.hpp"
#include "cli/interrupt.hpp"
#include "cli/progress.hpp"
#include "cli/show.hpp"
#include "cli/terminal.hpp"

namespace lanyard::cli {

Exit mutants_command(const CommandLine& line) {
    auto loaded = load_or_complain(line);
    if (const Exit* exit = std::get_if<Exit>(&loaded)) return *exit;
    const api::Model& model = std::get<api::Model>(loaded);
    api::MutantsOptions options;
    options.claims = line.texts("--claim");
    for (const std::string& id : options.claims)
        if (auto error = check_claim_id(model, id)) return complain(*error);
    if (auto error = check_targets(line)) return complain(*error);
    if (auto error = read_limits(line, options)) return complain(*error);
    ProgressLine progress(is_terminal(STDERR_FILENO));
    options.on_progress = [&](const api::Progress& now) { progress.update(now); };
    api::MutantsReport report;
    {
        InterruptWatch watch;
        report = api::mutants(model, options);
    }
    progress.stop();
    std::cout << harmless(report.heading) << "\n\n" << indented(report.text, "") << "\n" << report.closing << "\n";
    if (report.interrupted) return Exit::interrupted;
    if (const auto file = line.text("--json"))
        if (auto error = write_targets({{*file, report.json}})) return complain(*error);
    return report.judged ? Exit::all_proved : Exit::usage;
}

}  // namespace lanyard::cli
