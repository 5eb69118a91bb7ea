// lanyard check: the one command that judges.
#include <unistd.h>

#include <filesystem>
#include <iostream>

#include "cli/commands.hpp"
#include "cli/progress.hpp"
#include "cli/show.hpp"

namespace lanyard::cli {

namespace {

const Formats written{{"--json", api::Format::json},
                      {"--junit", api::Format::junit},
                      {"--sarif", api::Format::sarif},
                      {"--csv", api::Format::csv}};

// Which claims are wanted; none: all of them.
std::variant<std::vector<std::string>, Exit> claims_of(const CommandLine& line, const api::Model& model) {
    std::vector<std::string> wanted = line.texts("--claim");
    const auto wrong = [&](const std::string& what, const std::string& hint) {
        std::cout << CheckText::rules(model.rules_text());  // they may tell why there is nothing to judge
        return complain(UsageError{what, hint});
    };
    if (line.has("--rules-only")) {
        if (!wanted.empty()) return wrong("--claim and --rules-only cannot be combined", "use one of them");
        if (!line.has("--rules")) return wrong("--rules-only needs --rules", "lanyard help rules");
        for (const api::ClaimInfo& claim : model.claims())
            if (!claim.rule.empty()) wanted.push_back(claim.id);
        if (wanted.empty())
            return wrong("no rule applies to this model, so there is nothing to judge",
                         "lanyard help rules explains how its signals play roles");
    }
    if (model.claims().empty())
        return wrong("the model has no claims, so there is nothing to judge",
                     "lanyard help claims explains how to write one");
    if (const auto unknown = api::unknown_claim(model, wanted)) {
        std::cout << CheckText::rules(model.rules_text());
        return complain(*unknown);
    }
    return wanted;
}

std::variant<api::CheckOptions, Exit> options_of(const CommandLine& line, const api::Model& model) {
    auto claims = claims_of(line, model);
    if (const Exit* exit = std::get_if<Exit>(&claims)) return *exit;
    api::CheckOptions options;
    options.claims = std::get<std::vector<std::string>>(std::move(claims));
    options.prover = line.text("--prover").value_or("");
    if (const auto unknown = api::unknown_prover(options.prover)) return complain(*unknown);
    auto share = read_share(line);
    if (const auto* error = std::get_if<UsageError>(&share)) return complain(*error);
    options.share = std::get<std::optional<api::Share>>(std::move(share));
    if (auto error = options.share ? std::nullopt : read_keep(line, options)) return complain(*error);
    if (auto error = read_limits(line, options.limits)) return complain(*error);
    options.examples = line.has("--examples");
    if (auto error = read_counterexamples(line, options)) return complain(*error);
    return options;
}

// What was asked for beside the text. Half a check is not passed on to other programs.
std::optional<UsageError> write_results(const CommandLine& line, const api::Model& model, const api::Results& results) {
    if (auto error = write_judging(line, results)) return error;
    const auto folder = line.text("--vcd");
    if (results.interrupted) {
        const auto not_written = [&](const char* option) {
            if (const auto name = line.text(option))
                std::cerr << "lanyard: interrupted, so " << *name << " was not written\n";
        };
        for (const auto& [option, format] : written) not_written(option);
        not_written("--vcd");
        return std::nullopt;
    }
    if (folder) {
        const std::string readme = model.heading() + "\n\nThe run of each refutation (lanyard help outputs).\n";
        if (const std::string wrong = api::write_folder(*folder, readme, api::waves(results)); !wrong.empty())
            return UsageError{wrong, "the runs were not written"};
    }
    return write_formats(line, results, written);
}

}  // namespace

Exit check_command(const CommandLine& line, const std::optional<api::Parts>& parts) {
    auto loaded = load_or_complain(line);
    if (const Exit* exit = std::get_if<Exit>(&loaded)) return *exit;
    const api::Model& model = std::get<api::Model>(loaded);
    auto wanted = options_of(line, model);
    if (const Exit* exit = std::get_if<Exit>(&wanted)) return *exit;
    auto& options = std::get<api::CheckOptions>(wanted);
    options.parts = parts;
    if (parts) options.keep = line.text("--keep");  // LANYARD_KEEP is for models that are judged again and again

    const bool on_terminal = is_terminal(STDOUT_FILENO);
    const CheckText text(line.text("MODEL").value_or(""), model.claims(),
                         Painter(wants_colour(line.text("--color").value_or("auto"))), on_terminal,
                         line.text("--evidence"));
    ProgressLine progress(progress_to(line));
    progress.print(model.heading() + "\n\n");
    if (options.share) progress.print(share_text(*options.share, model, options.claims) + "\n");
    options.on_claim = [&](const api::ClaimReport& claim) { progress.print(text.line(claim)); };
    const auto checked = watched(progress, options, [&] { return api::check(model, options); });
    if (const auto* rejected = std::get_if<api::Rejected>(&checked)) return complain(*rejected);
    const auto& results = std::get<api::Results>(checked);
    const std::string beside =
        options.share ? "" : CheckText::rules(model.rules_text()) + CheckText::findings(model.findings_text());
    std::cout << text.after_lines(results, beside) << std::flush;
    if (auto error = write_results(line, model, results)) return complain(*error);
    const bool nothing_to_do = options.share && results.claims.empty() && !results.interrupted;
    return nothing_to_do ? Exit::all_proved : exit_of(results);
}

}  // namespace lanyard::cli
