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

Exit check_command(const CommandLine& line, const std::optional<api::Parts>& parts = {});
Exit card_command(const CommandLine& line);
Exit case_command(const CommandLine& line);
Exit claims_command(const CommandLine& line);
Exit findings_command(const CommandLine& line);
Exit graph_command(const CommandLine& line);
Exit report_command(const CommandLine& line);
Exit run_command(const CommandLine& line);
Exit schema_command(const CommandLine& line);
Exit export_command(const CommandLine& line);
Exit faults_command(const CommandLine& line, const std::optional<api::Parts>& parts = {});
Exit mutants_command(const CommandLine& line, const std::optional<api::Parts>& parts = {});
Exit merge_command(const CommandLine& line);
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
// Complains about targets of --json, --evidence and the like that cannot be written, or that would be written over what
// is read. Nothing is wrong: nothing.
std::optional<UsageError> check_targets(const CommandLine& line);
// The line with --log, where only the environment names a log.
CommandLine with_log(CommandLine line);
// Begins the log that is asked for. Nothing is wrong: nothing.
std::optional<UsageError> start_log(const CommandLine& line);
// Writes the files whole. A failure has to be the exit: who reads that alone must not take a missing file for success.
std::optional<UsageError> write_targets(const std::vector<std::pair<std::string, std::string>>& files);
// Options with what goes to the file that each names.
using Formats = std::vector<std::pair<const char*, api::Format>>;
std::optional<UsageError> write_formats(const CommandLine& line, const api::Results& results, const Formats& formats);
// A table as --csv-separator wants it.
std::string csv_for(const CommandLine& line, const std::string& csv);
// To --out, or to standard output.
Exit deliver(const CommandLine& line, const std::string& text);

// --shard and --part; nothing where neither is given. With it no other results are written.
std::variant<std::optional<api::Share>, UsageError> read_share(const CommandLine& line);
// "Part 2 of 8: claims 2, 10, 18 ... of 40": which of the wanted claims, and likewise which mutants, are judged.
std::string share_text(const api::Share& share, const api::Model& model, const std::vector<std::string>& wanted);
std::string mutants_share_text(const api::Share& share);
std::optional<UsageError> part_not_written(const std::string& error);

// --jobs, --time, --work, --memory.
std::optional<UsageError> read_limits(const CommandLine& line, api::Limits& limits);
// --keep, --fresh; without --keep a file of its own in the folder that LANYARD_KEEP names in the environment.
std::optional<UsageError> read_keep(const CommandLine& line, api::CheckOptions& options);
std::optional<UsageError> read_counterexamples(const CommandLine& line, api::CheckOptions& options);
// What check, case and report write alike: --evidence, --keep. What of it could not be written.
std::optional<UsageError> write_judging(const CommandLine& line, const api::Results& results);

}  // namespace lanyard::cli
