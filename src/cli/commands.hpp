// What the commands do. Each answers with the exit that it came to; texts go to standard output, complaints to
// standard error.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include <lanyard/lanyard.hpp>

#include "cli/exit_codes.hpp"
#include "cli/parse.hpp"

namespace lanyard::cli {

Exit run_command_line(const CommandLine& line);

Exit check_command(const CommandLine& line);
Exit card_command(const CommandLine& line);
Exit case_command(const CommandLine& line);
Exit claims_command(const CommandLine& line);
Exit findings_command(const CommandLine& line);
Exit graph_command(const CommandLine& line);
Exit report_command(const CommandLine& line);
Exit run_command(const CommandLine& line);
Exit schema_command(const CommandLine& line);
Exit export_command(const CommandLine& line);
Exit faults_command(const CommandLine& line);
Exit mutants_command(const CommandLine& line);
Exit needs_command(const CommandLine& line);
Exit why_command(const CommandLine& line);
Exit rules_command(const CommandLine& line);
Exit help_command_line(const CommandLine& line);

// The parts that commands share.
Exit complain(const UsageError& error);
Exit complain(const api::Rejected& rejected);
// What --rules names, with and without commas.
std::vector<std::string> packs_of(const CommandLine& line);
// The model with the rules that were chosen, or the exit after its problems were shown. Warnings are shown in both
// cases.
std::variant<api::Model, Exit> load_or_complain(const CommandLine& line);
// Is this a claim of the model? If not: what to say.
std::optional<UsageError> check_claim_id(const api::Model& model, const std::string& id);
std::optional<UsageError> check_claim_ids(const api::Model& model, const std::vector<std::string>& ids);
// Complains about targets of --json, --evidence and the like that cannot be written, or that would be written over what
// is read. Nothing is wrong: nothing.
std::optional<UsageError> check_targets(const CommandLine& line);
// The line with --log, where only the environment names a log.
CommandLine with_log(CommandLine line);
// Begins the log that is asked for. Nothing is wrong: nothing.
std::optional<UsageError> start_log(const CommandLine& line);
// Writes the files whole. A failure has to be the exit: who reads that alone must not take a missing file for success.
std::optional<UsageError> write_targets(const std::vector<std::pair<std::string, std::string>>& files);
// To --out, or to standard output.
Exit deliver(const CommandLine& line, const std::string& text);

// --jobs, --time, --work, --memory; api::CheckOptions or api::FaultOptions.
template <class Options>
std::optional<UsageError> read_limits(const CommandLine& line, Options& options) {
    if (auto jobs = line.count("--jobs")) {
        if (*jobs > 1024) return UsageError{"--jobs cannot be " + std::to_string(*jobs), "at most 1024"};
        options.jobs = static_cast<unsigned>(*jobs);
    }
    options.time_s = line.seconds("--time");
    options.work = line.count("--work");
    options.memory_mb = line.count("--memory");
    return std::nullopt;
}

// What check, case and report read alike: the limits, --evidence, --keep.
std::optional<UsageError> read_judging(const CommandLine& line, api::CheckOptions& options);
// What of --evidence and --keep could not be written.
std::optional<UsageError> not_written(const api::CheckReport& report);

}  // namespace lanyard::cli
