// One table of commands and their options. The parser, `--help`, `lanyard help`, the completion of the shell and the
// tests are all fed from it: an option that stands here exists, and nothing else does.
#pragma once

#include <string>
#include <vector>

namespace lanyard::cli {

enum class Takes { nothing, text, choice, file, folder, count, seconds, topic };

struct OptionRow {
    std::string name;  // "--json"; without dashes: a word by its position, "MODEL"
    Takes takes = Takes::text;
    std::string value;  // what stands for the value in help: "FILE"
    std::vector<std::string> choices;
    bool required = false;
    bool repeatable = false;
    std::string meaning;
    bool reads = false;         // a file that is read; every other file or folder is written
    std::string formerly = {};  // its name in earlier versions, which is refused with a hint

    bool positional() const { return name[0] != '-'; }
};

struct CommandRow {
    std::string name;
    std::string meaning;  // one line
    std::string more;     // a paragraph; may be empty
    std::vector<OptionRow> options;
    std::vector<std::string> examples;
};

const std::vector<CommandRow>& command_table();
const CommandRow* find_command(const std::string& name);

// "MODEL", "[--claim ID]...", "[--json FILE]": what may stand behind the command.
std::vector<std::string> usage_words(const CommandRow& command);
// All of it in one line, behind "lanyard check".
std::string usage_line(const CommandRow& command);

}  // namespace lanyard::cli
