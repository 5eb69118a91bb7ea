// `lanyard help`: texts that stand beside this file (help/*.txt), with the tables that the program works from put in
// at their marks, so that no text can forget a key, a unit or an exit code.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "cli/options.hpp"

namespace lanyard::cli {

struct HelpText {
    const char* topic;
    const char* text;
};
// Made at build time from help/*.txt and SAFETY.md, in alphabetical order; an entry without topic ends it.
extern const HelpText help_texts[];

// Topics in the order in which the overview lists them.
std::vector<std::string> help_topics();
// The whole text of a topic with its tables; nothing if there is no such topic.
std::optional<std::string> help_topic(const std::string& topic);

std::string help_overview();
std::string help_command(const CommandRow& command);

}  // namespace lanyard::cli
