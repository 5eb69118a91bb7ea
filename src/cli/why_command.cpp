// lanyard why: what holds a signal on or off, and what was first to go.
#include <iostream>

#include "cli/commands.hpp"
#include "cli/interrupt.hpp"
#include "cli/show.hpp"

namespace lanyard::cli {

Exit why_command(const CommandLine& line) {
    auto loaded = load_or_complain(line);
    if (const Exit* exit = std::get_if<Exit>(&loaded)) return *exit;
    const api::Model& model = std::get<api::Model>(loaded);
    api::WhyOptions options;
    options.signal = line.text("SIGNAL").value_or("");
    options.at = line.text("--at");
    options.claim = line.text("--claim");
    options.run = line.text("--run");
    if (auto error = read_limits(line, options.limits)) return complain(*error);
    const InterruptWatch watch;
    options.limits.stop = watch.token();
    auto told = api::why(model, options);
    if (const auto* rejected = std::get_if<api::Rejected>(&told)) return complain(*rejected);
    const auto& report = std::get<api::WhyReport>(told);
    std::cerr << report.warnings;
    std::cout << indented(report.text, "");
    if (report.interrupted) {
        std::cerr << "lanyard: interrupted" << (report.text.empty() ? " before the claim was decided" : "") << "\n";
        return Exit::interrupted;
    }
    if (const auto file = line.text("--json"))
        if (auto error = write_targets({{*file, report.json}})) return complain(*error);
    return Exit::all_proved;
}

}  // namespace lanyard::cli
