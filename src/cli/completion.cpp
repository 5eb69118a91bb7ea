#include "cli/completion.hpp"

#include "cli/help.hpp"
#include "cli/options.hpp"

namespace lanyard::cli {

namespace {

std::string listed_words(const std::vector<std::string>& list) {
    std::string text;
    for (const std::string& word : list) text += (text.empty() ? "" : " ") + word;
    return text;
}

std::vector<std::string> command_names() {
    std::vector<std::string> names;
    for (const CommandRow& row : command_table()) names.push_back(row.name);
    return names;
}

// What completes the value of an option; empty where nothing can be offered.
std::string offer(const OptionRow& option) {
    switch (option.takes) {
        case Takes::choice:
            return "COMPREPLY=($(compgen -W \"" + listed_words(option.choices) + "\" -- \"$word\"))";
        case Takes::topic:
            return "COMPREPLY=($(compgen -W \"" + listed_words(help_topics()) + " " + listed_words(command_names()) +
                   "\" -- \"$word\"))";
        case Takes::file:
            return "COMPREPLY=($(compgen -f -- \"$word\"))";
        case Takes::folder:
            return "COMPREPLY=($(compgen -d -- \"$word\"))";
        case Takes::text:
        case Takes::count:
        case Takes::seconds:
        case Takes::nothing:
            return "";
    }
    return "";
}

std::string values_of(const CommandRow& command) {
    std::string text;
    for (const OptionRow& option : command.options)
        if (!option.positional() && option.takes != Takes::nothing)
            text += "        \"" + command.name + " " + option.name + "\") " +
                    (offer(option).empty() ? "" : offer(option) + "; ") + "return ;;\n";
    return text;
}

std::string words_of(const CommandRow& command) {
    std::vector<std::string> options{"--help"};
    std::string position;
    for (const OptionRow& option : command.options) {
        if (option.positional())
            position = offer(option);
        else
            options.push_back(option.name);
    }
    std::string text = "        " + command.name + ")\n";
    text += "            if [[ $word == -* ]]; then COMPREPLY=($(compgen -W \"" + listed_words(options) +
            "\" -- \"$word\"))\n";
    if (!position.empty()) text += "            else " + position + "\n";
    return text + "            fi ;;\n";
}

}  // namespace

std::string bash_completion() {
    std::string text =
        "# Completion of lanyard for bash: source <(lanyard completion bash)\n"
        "_lanyard() {\n"
        "    local word=\"${COMP_WORDS[COMP_CWORD]}\" command=\"${COMP_WORDS[1]}\"\n"
        "    COMPREPLY=()\n"
        "    if ((COMP_CWORD == 1)); then\n"
        "        COMPREPLY=($(compgen -W \"" +
        listed_words(command_names()) +
        " --help --version\" -- \"$word\"))\n"
        "        return\n"
        "    fi\n"
        "    case \"$command ${COMP_WORDS[COMP_CWORD - 1]}\" in\n";
    for (const CommandRow& command : command_table()) text += values_of(command);
    text += "    esac\n    case \"$command\" in\n";
    for (const CommandRow& command : command_table()) text += words_of(command);
    return text + "    esac\n}\ncomplete -o filenames -F _lanyard lanyard\n";
}

}  // namespace lanyard::cli
