// Words of the command line -> a checked set of options.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "cli/options.hpp"

namespace lanyard::cli {

struct CommandLine {
    const CommandRow* command = nullptr;  // null: `lanyard --version` or `lanyard --help`
    bool version = false;
    bool help = false;
    std::map<std::string, std::vector<std::string>> values;  // by OptionRow::name; checked against its row

    bool has(const std::string& option) const { return values.count(option) > 0; }
    std::optional<std::string> text(const std::string& option) const;
    std::vector<std::string> texts(const std::string& option) const;
    std::optional<std::uint64_t> count(const std::string& option) const;
    std::optional<double> seconds(const std::string& option) const;
};

struct UsageError {
    std::string what;
    std::string hint;
};
// "lanyard: what\n  hint\n"
std::string render(const UsageError& error);

// What is required and missing, given more than once, or a value that its option does not take.
std::optional<UsageError> check_line(const CommandLine& line);

std::variant<CommandLine, UsageError> parse(const std::vector<std::string>& words);

}  // namespace lanyard::cli
