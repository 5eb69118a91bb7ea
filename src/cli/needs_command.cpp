// lanyard needs: which assumptions a proof cannot do without.
#include <unistd.h>

#include <iostream>

#include "cli/commands.hpp"
#include "cli/interrupt.hpp"
#include "cli/progress.hpp"
#include "cli/show.hpp"
#include "cli/terminal.hpp"

namespace lanyard::cli {

Exit needs_command(const CommandLine& line) {
    auto loaded = load_or_complain(line);
    if (const Exit* exit = std::get_if<Exit>(&loaded)) return *exit;
    const api::Model& model = std::get<api::Model>(loaded);
    api::NeedsOptions options;
    options.claims = line.texts("--claim");
    for (const std::string& id : options.claims)
        if (auto error = check_claim_id(model, id)) return complain(*error);
    if (auto error = check_targets(line)) return complain(*error);
    if (auto error = read_limits(line, options)) return complain(*error);
    ProgressLine progress(is_terminal(STDERR_FILENO));
    options.on_progress = [&](const api::Progress& now) { progress.update(now); };
    api::NeedsOfProofs report;
    {
        InterruptWatch watch;
        report = api::needs(model, options);
    }
    progress.stop();
    std::cout << harmless(report.heading) << "\n\n" << indented(report.text, "") << "\n" << report.closing << "\n";
    if (report.interrupted) return Exit::interrupted;
    if (const auto file = line.text("--json"))
        if (auto error = write_targets({{*file, report.json}})) return complain(*error);
    return Exit::all_proved;
}

}  // namespace lanyard::cli
