#include "cli/parse.hpp"

#include <CLI/App.hpp>
#include <CLI/Config.hpp>
#include <CLI/Formatter.hpp>
#include <charconv>
#include <cmath>
#include <memory>

#include <lanyard/lanyard.hpp>

namespace lanyard::cli {

namespace {

std::string joined(const std::vector<std::string>& words, const std::string& between) {
    std::string text;
    for (const std::string& word : words) text += (text.empty() ? "" : between) + word;
    return text;
}

std::string see(const CommandRow* command) {
    return command ? "lanyard " + command->name + " --help shows its options" : "lanyard help lists the commands";
}

std::optional<std::uint64_t> to_count(const std::string& text) {
    std::uint64_t number = 0;
    const char* end = text.data() + text.size();
    auto [stop, error] = std::from_chars(text.data(), end, number);
    if (error != std::errc() || stop != end || number == 0) return std::nullopt;
    return number;
}

// Plain decimals only: no exponent, no infinity, and never more than about thirty years.
std::optional<double> to_seconds(const std::string& text) {
    double number = 0;
    const char* end = text.data() + text.size();
    auto [stop, error] = std::from_chars(text.data(), end, number, std::chars_format::fixed);
    if (error != std::errc() || stop != end || !std::isfinite(number) || number <= 0 || number > 1e9)
        return std::nullopt;
    return number;
}

std::optional<UsageError> check_value(const OptionRow& row, const std::string& value) {
    const std::string given = row.name + " cannot be \"" + value + "\"";
    switch (row.takes) {
        case Takes::choice:
            for (const std::string& choice : row.choices)
                if (choice == value) return std::nullopt;
            if (auto near = api::nearest(value, row.choices)) return UsageError{given, "did you mean " + *near + "?"};
            return UsageError{given, "it is one of: " + joined(row.choices, ", ")};
        case Takes::count:
            if (to_count(value)) return std::nullopt;
            return UsageError{given, "use a whole number above 0"};
        case Takes::seconds:
            if (to_seconds(value)) return std::nullopt;
            return UsageError{given, "use seconds as a number above 0, such as 60 or 0.5"};
        case Takes::text:
        case Takes::file:
        case Takes::folder:
        case Takes::topic:
            if (!value.empty()) return std::nullopt;
            return UsageError{row.name + " is empty", "it takes " + row.value};
        case Takes::nothing:
            return std::nullopt;
    }
    return std::nullopt;
}

UsageError unknown_word(const std::string& word, const CommandRow* command) {
    std::vector<std::string> known;
    const bool is_option = word.size() > 1 && word[0] == '-';
    if (command) {
        for (const OptionRow& row : command->options)
            if (!row.positional()) known.push_back(row.name);
    } else if (!is_option) {
        for (const CommandRow& row : command_table()) known.push_back(row.name);
    }
    if (is_option) known.insert(known.end(), {"--help", "--version"});
    const std::string bare = word.substr(0, word.find('='));
    const std::string what = is_option ? "unknown option " + bare
                             : command ? "\"" + word + "\" is unexpected here"
                                       : "unknown command " + word;
    if (command)
        for (const OptionRow& row : command->options)
            if (row.formerly == bare) return {what, "did you mean " + row.name + "?"};
    if (is_option || !command)
        if (auto near = api::nearest(bare, known)) return {what, "did you mean " + *near + "?"};
    return {what, command ? usage_line(*command) : see(nullptr)};
}

struct Parser {
    CLI::App app;
    std::map<std::string, CLI::App*> commands;
    bool version = false;
    bool help = false;

    Parser() {
        app.set_help_flag();
        app.allow_extras();
        app.add_flag("--version", version);
        app.add_flag("-h,--help", help);
        for (const CommandRow& row : command_table()) {
            CLI::App* command = app.add_subcommand(row.name);
            command->set_help_flag();
            command->allow_extras();
            command->add_flag("-h,--help", help);
            for (const OptionRow& option : row.options)
                if (option.takes == Takes::nothing)
                    command->add_flag(option.name)->multi_option_policy(CLI::MultiOptionPolicy::TakeAll);
                else
                    command->add_option(option.name, CLI::callback_t([](const CLI::results_t&) { return true; }))
                        ->expected(option.positional() && option.repeatable ? -1 : 1)
                        ->allow_extra_args(option.positional() && option.repeatable)
                        ->multi_option_policy(CLI::MultiOptionPolicy::TakeAll);
            commands[row.name] = command;
        }
        app.require_subcommand(0, 1);
    }

    const CommandRow* command_given() const {
        for (const auto& [name, command] : commands)
            if (command->parsed()) return find_command(name);
        return nullptr;
    }
};

UsageError translate(const CLI::ParseError& error, const CommandRow* command) {
    const std::string text = error.what();
    const std::string option = text.substr(0, text.find(':'));
    if (command)
        for (const OptionRow& row : command->options)
            if (row.name == option) return {row.name + " needs a value", row.name + " " + row.value};
    return {text, see(command)};
}

}  // namespace

std::optional<std::string> CommandLine::text(const std::string& option) const {
    auto found = values.find(option);
    if (found == values.end() || found->second.empty()) return std::nullopt;
    return found->second.front();
}

std::vector<std::string> CommandLine::texts(const std::string& option) const {
    auto found = values.find(option);
    return found == values.end() ? std::vector<std::string>{} : found->second;
}

std::optional<std::uint64_t> CommandLine::count(const std::string& option) const {
    auto given = text(option);
    return given ? to_count(*given) : std::nullopt;
}

std::optional<double> CommandLine::seconds(const std::string& option) const {
    auto given = text(option);
    return given ? to_seconds(*given) : std::nullopt;
}

std::string render(const UsageError& error) {
    return "lanyard: " + error.what + "\n" + (error.hint.empty() ? "" : "  " + error.hint + "\n");
}

// The rules that the table states and the parser does not know: what is required, what may stand only once.
std::optional<UsageError> check_line(const CommandLine& line) {
    for (const OptionRow& row : line.command->options) {
        auto found = line.values.find(row.name);
        const std::size_t times = found == line.values.end() ? 0 : found->second.size();
        if (times == 0 && row.required) return UsageError{row.name + " is missing", usage_line(*line.command)};
        if (times > 1 && !row.repeatable)
            return UsageError{row.name + " is given " + std::to_string(times) + " times", see(line.command)};
        if (times > 0)
            for (const std::string& value : found->second)
                if (auto error = check_value(row, value)) return error;
    }
    return std::nullopt;
}

std::variant<CommandLine, UsageError> parse(const std::vector<std::string>& words) {
    Parser parser;
    try {
        // The library takes words from the back.
        parser.app.parse(std::vector<std::string>(words.rbegin(), words.rend()));
    } catch (const CLI::ParseError& error) {
        return translate(error, parser.command_given());
    }
    CommandLine line;
    line.command = parser.command_given();
    line.version = parser.version;
    line.help = parser.help;
    const std::vector<std::string> rest = parser.app.remaining(true);
    if (!rest.empty()) return unknown_word(rest.front(), line.command);
    if (line.version || line.help) return line;
    if (!line.command) return UsageError{"no command given", see(nullptr)};
    for (const OptionRow& row : line.command->options) {
        const CLI::Option* option = parser.commands[line.command->name]->get_option(row.name);
        if (option->count() > 0) line.values[row.name] = option->results();
    }
    if (auto error = check_line(line)) return *error;
    return line;
}

}  // namespace lanyard::cli
