// lanyard faults: which broken wire, welded relay or lying sensor breaks which claim.
#include <algorithm>
#include <iostream>
#include <sstream>

#include "cli/commands.hpp"
#include "cli/progress.hpp"
#include "cli/show.hpp"
#include "cli/terminal.hpp"

namespace lanyard::cli {

namespace {

std::string set_text(const std::vector<std::string>& names, const std::string& between = " + ") {
    std::string all;
    for (const std::string& n : names) all += (all.empty() ? "" : between) + n;
    return harmless(all);
}

std::string singles_of(const api::ClaimFaultsReport& claim) {
    std::string names;
    for (const auto& set : claim.sets)
        if (set.faults.size() == 1) names += (names.empty() ? "" : ", ") + harmless(set.faults.front());
    return names;
}

std::string summary_of(const api::ClaimFaultsReport& claim, unsigned order) {
    if (!claim.not_judged.empty()) return "not judged: " + harmless(claim.not_judged);
    const std::string singles = singles_of(claim);
    if (!singles.empty()) return "fails with " + singles;
    if (claim.complete_up_to == 0) return "undecided: " + harmless(claim.why_not);
    return order == 1 || claim.complete_up_to == 1 ? "holds with any single fault"
                                                   : "holds with any single fault, see below";
}

// One row, the lines after its first one further in.
std::string row(const std::string& text) { return "  " + wrapped(text, 4, wide_page).substr(4); }

std::string sets_text(const api::ClaimFaultsReport& claim, unsigned order) {
    if (!claim.not_judged.empty()) return "";
    std::string text;
    for (const auto& set : claim.sets)
        if (set.faults.size() > 1) text += row(set_text(set.faults));
    for (const auto& set : claim.sets) {
        if (!set.undone_by.empty())
            text += row(set_text(set.faults) + ": holds again with " + set_text(set.undone_by, ", "));
        if (!set.undone_open.empty())
            text += row(set_text(set.faults) + ": undecided with " + set_text(set.undone_open, ", "));
    }
    for (const auto& set : claim.sets)
        if (!set.story.empty()) text += "\n" + set_text(set.faults) + "\n" + indented(set.story, "  ");
    if (order > 1 || claim.complete_up_to < order) {
        text += row(claim.complete_up_to == 0 ? "not complete: " + harmless(claim.why_not)
                                              : "no other set of up to " + std::to_string(claim.complete_up_to) +
                                                    " faults makes it fail: proved");
        if (claim.complete_up_to > 0 && claim.complete_up_to < order)
            text += row("larger sets: undecided, " + harmless(claim.why_not));
    }
    if (!claim.likelihood.empty()) text += two_columns("  likelihood", 14, harmless(claim.likelihood), wide_page);
    return text.empty() ? "" : "\n" + harmless(claim.id) + "\n" + text;
}

std::string rows(const std::string& lines) {
    std::istringstream in(lines);
    std::string out, line;
    while (std::getline(in, line)) out += row(harmless(line));
    return out;
}

std::string claims_text(const api::FaultsReport& report, unsigned order) {
    std::string text;
    std::size_t width = 0;
    for (const auto& c : report.claims) width = std::max(width, harmless(c.id).size());
    for (const auto& c : report.claims)
        text += two_columns("  " + harmless(c.id), width + 4, summary_of(c, order), wide_page);
    for (const auto& c : report.claims) text += sets_text(c, order);
    return text;
}

// What is known of the faults, whichever claim they break.
std::string effects_text(const api::FaultsReport& report) {
    std::string text = "\n" + wrapped(harmless(report.in_use) + ".", 0, wide_page);
    if (!report.hidden.empty())
        text += "\nNobody notices these in that use, until the part is needed\n" + rows(report.hidden);
    return text + "\n" + std::to_string(report.effects.size()) + " faults asked about\n";
}

// Files that were asked for. A fault tree is that of one claim.
std::optional<UsageError> write_files(const CommandLine& line, const api::FaultsReport& report) {
    std::vector<std::pair<std::string, std::string>> files;
    if (const auto f = line.text("--json")) files.emplace_back(*f, report.json);
    if (const auto f = line.text("--csv")) files.emplace_back(*f, csv_for(line, report.csv));
    if (const auto f = line.text("--mef")) {
        const bool none = report.trees.empty();
        if (report.trees.size() != 1)
            return UsageError{none ? "there is no fault tree to write" : "there is more than one fault tree",
                              none ? harmless(report.trees_missing) : "select one with --claim"};
        files.emplace_back(*f, report.trees.front().second);
    }
    return write_targets(files);
}

}  // namespace

Exit faults_command(const CommandLine& line, const std::optional<api::Parts>& parts) {
    auto loaded = load_or_complain(line);
    if (const Exit* exit = std::get_if<Exit>(&loaded)) return *exit;
    const api::Model& model = std::get<api::Model>(loaded);
    api::FaultOptions options;
    options.claims = line.texts("--claim");
    if (auto wrong = api::unknown_claim(model, options.claims)) return complain(*wrong);
    options.order = static_cast<unsigned>(line.count("--order").value_or(1));
    if (options.order < 1 || options.order > 6)
        return complain(UsageError{"--order cannot be " + std::to_string(options.order), "1 to 6"});
    options.stories = line.has("--stories");
    options.from_the_start = line.has("--from-the-start");
    if (auto error = read_limits(line, options.limits)) return complain(*error);
    auto share = read_share(line);
    if (const auto* error = std::get_if<UsageError>(&share)) return complain(*error);
    options.share = std::get<std::optional<api::Share>>(std::move(share));
    options.parts = parts;

    ProgressLine progress(progress_to(line));
    const auto found = watched(progress, options, [&] { return api::faults(model, options); });
    if (const auto* rejected = std::get_if<api::Rejected>(&found)) return complain(*rejected);
    const auto& report = std::get<api::FaultsReport>(found);
    std::cout << model.heading() << "\n\n";
    if (options.share) std::cout << share_text(*options.share, model, options.claims) << "\n";
    std::cout << claims_text(report, options.order) << (options.share ? "\n" : effects_text(report)) << api::closing()
              << "\n";
    if (auto error = part_not_written(report.part_error)) return complain(*error);
    if (report.interrupted) return Exit::interrupted;  // half an analysis is not passed on
    if (auto error = write_files(line, report)) return complain(*error);
    return options.share && report.claims.empty() ? Exit::all_proved : exit_of(report.outcome, report.interrupted);
}

}  // namespace lanyard::cli
