// Files and folders that are written beside the text on the terminal.
#include <filesystem>
#include <map>

#include "cli/commands.hpp"
#include "cli/parse.hpp"

namespace lanyard::cli {

namespace {

namespace fs = std::filesystem;

std::optional<UsageError> check_file(const std::string& file) {
    std::error_code error;
    const fs::path folder = fs::path(file).parent_path();
    if (!folder.empty() && !fs::is_directory(folder, error))
        return UsageError{"cannot write " + file, "there is no folder " + folder.string()};
    if (fs::is_directory(file, error)) return UsageError{"cannot write " + file, "it is a folder"};
    return std::nullopt;
}

}  // namespace

// A check can take minutes: what would spoil its end is said at its beginning.
std::optional<UsageError> check_targets(const CommandLine& line) {
    std::error_code error;
    std::map<std::string, std::string> taken;
    for (const OptionRow& option : line.command->options) {
        const auto target = option.positional() ? std::nullopt : line.text(option.name);
        if (!target) continue;
        const auto [other, is_new] = taken.emplace(*target, option.name);
        if (!is_new)
            return UsageError{"cannot write both " + other->second + " and " + option.name + " to " + *target,
                              "give each a name of its own"};
        if (option.takes == Takes::file)
            if (auto wrong = check_file(*target)) return wrong;
        if (option.takes == Takes::folder && fs::exists(*target, error) && !fs::is_directory(*target, error))
            return UsageError{"cannot write into " + *target, "it is no folder"};
    }
    return std::nullopt;
}

std::optional<UsageError> read_judging(const CommandLine& line, api::CheckOptions& options) {
    if (auto folder = line.text("--evidence")) options.evidence = *folder;
    if (auto file = line.text("--keep")) options.keep = *file;
    return read_limits(line, options);
}

std::optional<UsageError> not_written(const api::CheckReport& report) {
    if (!report.evidence_error.empty()) return UsageError{report.evidence_error, "the evidence is not complete"};
    if (!report.keep_error.empty()) return UsageError{report.keep_error, "what was found was not kept"};
    return std::nullopt;
}

std::optional<UsageError> write_targets(const std::vector<std::pair<std::string, std::string>>& files) {
    for (const auto& [name, text] : files) {
        const std::string error = api::write_whole(name, text);
        if (!error.empty()) return UsageError{error, "what stands above holds, but the file was not written"};
    }
    return std::nullopt;
}

}  // namespace lanyard::cli
