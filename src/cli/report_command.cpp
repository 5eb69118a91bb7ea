// lanyard report: judges like check, and writes a folder to be handed on.

#include <algorithm>
#include <chrono>
#include <future>
#include <iostream>

#include "cli/commands.hpp"
#include "cli/progress.hpp"
#include "cli/show.hpp"
#include "cli/terminal.hpp"

namespace lanyard::cli {

namespace {

struct Found {
    std::variant<api::Results, api::Rejected> results;
    std::optional<api::FaultsReport> faults;
    std::optional<api::CardReport> card;
    bool interrupted = false;
};

// The bench card is made beside the judging; with one thread, or where that may be refused, after it, in what is left
// of the time.
std::future<api::CardReport> card_beside(const api::Model& model, const api::Limits& limits, bool may_be_refused) {
    const auto make = [&model, limits, start = std::chrono::steady_clock::now()] {
        api::Limits left = limits;
        const double passed = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
        if (left.time_s) left.time_s = std::max(0.0, *left.time_s - passed);
        return api::bench_card(model, left);
    };
    return std::async(limits.jobs == 1 || may_be_refused ? std::launch::deferred : std::launch::async, make);
}

Found found_of(const CommandLine& line, const api::Model& model, const api::CheckOptions& options) {
    auto beside = card_beside(model, options.limits, options.keep.has_value());
    Found out;
    out.results = api::check(model, options);
    const auto* results = std::get_if<api::Results>(&out.results);
    if (results == nullptr) return out;
    out.interrupted = results->interrupted;
    if (line.has("--faults") && !out.interrupted) {  // within the same limits for each question
        api::FaultOptions asked;
        asked.limits = options.limits;
        asked.on_progress = options.on_progress;
        out.faults = std::get<api::FaultsReport>(api::faults(model, asked));
        out.interrupted = out.faults->interrupted;
    }
    if (out.interrupted) return out;
    const std::size_t decided = results->claims.size();
    options.on_progress({decided, decided, "", "making the bench card"});
    out.card = beside.get();
    out.interrupted = out.card->interrupted;
    return out;
}

std::vector<api::FolderFile> files_of(const CommandLine& line, const api::Results& results, const Found& found) {
    const api::Beside beside{found.faults ? &*found.faults : nullptr, found.card ? &*found.card : nullptr};
    std::vector<api::FolderFile> files;
    for (const auto& [name, format] : Formats{{"report.html", api::Format::page},
                                              {"verdicts.json", api::Format::json},
                                              {"verdicts.xml", api::Format::junit},
                                              {"verdicts.sarif", api::Format::sarif},
                                              {"case.txt", api::Format::safety_case},
                                              {"case.dot", api::Format::safety_case_dot},
                                              {"record.txt", api::Format::record}})
        files.push_back({name, api::write(results, format, beside)});
    files.push_back({"verdicts.csv", csv_for(line, api::write(results, api::Format::csv))});
    if (found.card) {
        files.push_back({"card.html", found.card->html});
        files.push_back({"card.csv", csv_for(line, found.card->csv)});
        files.push_back({"card.txt", found.card->text});
    }
    for (auto& wave : api::waves(results)) files.push_back({"runs/" + wave.name, std::move(wave.text)});
    return files;
}

// "Written into car-report: report.html (open this one), ..."
std::string written_text(const std::string& folder, const std::vector<api::FolderFile>& files) {
    std::string names;
    std::size_t runs = 0;
    for (const api::FolderFile& file : files) {
        if (file.name.starts_with("runs/"))
            ++runs;
        else
            names += (names.empty() ? "" : ", ") + file.name + (names.empty() ? " (open this one)" : "");
    }
    if (runs > 0) names += ", runs/ (" + std::to_string(runs) + (runs == 1 ? " run)" : " runs)");
    return "\n" + wrapped("Written into " + harmless(folder) + ": " + names + ".", 0, wide_page);
}

}  // namespace

Exit report_command(const CommandLine& line) {
    auto loaded = load_or_complain(line);
    if (const Exit* exit = std::get_if<Exit>(&loaded)) return *exit;
    const api::Model& model = std::get<api::Model>(loaded);
    if (model.claims().empty())
        return complain(UsageError{"the model makes no claim, so there is nothing to judge",
                                   "lanyard help claims tells how to make one"});
    api::CheckOptions options;
    if (auto error = read_keep(line, options)) return complain(*error);
    if (auto error = read_limits(line, options.limits)) return complain(*error);
    if (auto error = read_counterexamples(line, options)) return complain(*error);

    const CheckText text(line.text("MODEL").value_or(""), model.claims(), Painter(false), false);
    ProgressLine progress(progress_to(line));
    progress.print(model.heading() + "\n\n");
    options.on_claim = [&](const api::ClaimReport& claim) { progress.print(text.line(claim)); };
    Found found = watched(progress, options, [&] { return found_of(line, model, options); });
    if (const auto* rejected = std::get_if<api::Rejected>(&found.results)) return complain(*rejected);
    auto& results = std::get<api::Results>(found.results);
    results.interrupted = found.interrupted;
    std::cout << "\n" << text.summary(results) << api::closing() << "\n" << std::flush;
    if (auto error = write_judging(line, results)) return complain(*error);
    const std::string folder = line.text("--out").value_or("");
    if (results.interrupted) {  // half a report is not passed on
        std::cerr << "lanyard: interrupted, so nothing was written into " << harmless(folder) << "\n";
        return Exit::interrupted;
    }
    const std::string readme = model.heading() + "\n\nA report: open report.html (lanyard help report).\n";
    const std::vector<api::FolderFile> files = files_of(line, results, found);
    if (const std::string wrong = api::write_folder(folder, readme, files); !wrong.empty())
        return complain(UsageError{wrong, "the report was not written"});
    std::cout << written_text(folder, files) << std::flush;
    return exit_of(results);
}

}  // namespace lanyard::cli
