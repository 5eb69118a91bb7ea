// --log and --log-level, and the environment's LANYARD_LOG in the place of the first.
#include <cstdlib>

#include <lanyard/log.hpp>

#include "cli/commands.hpp"

namespace lanyard::cli {

CommandLine with_log(CommandLine line) {
    const char* file = std::getenv("LANYARD_LOG");
    if (file == nullptr || *file == '\0' || line.command == nullptr || line.has("--log")) return line;
    for (const OptionRow& row : line.command->options)
        if (row.name == "--log") line.values["--log"] = {file};
    return line;
}

std::optional<UsageError> start_log(const CommandLine& line) {
    const std::string level = line.text("--log-level").value_or("debug");
    const auto file = line.text("--log");
    if (!file) {
        if (!line.has("--log-level")) return std::nullopt;
        return UsageError{"--log-level without a log", "--log FILE says where to write it"};
    }
    const api::LogLevel wanted = level == "info"    ? api::LogLevel::info
                                 : level == "trace" ? api::LogLevel::trace
                                                    : api::LogLevel::debug;
    const std::string error = api::start_log({*file, wanted});
    if (error.empty()) return std::nullopt;
    return UsageError{error, "nothing was judged; give --log (or LANYARD_LOG) another file"};
}

}  // namespace lanyard::cli
