// --shard, and lanyard merge: a command shared among machines, and one result of its parts.
//
// A part records the options of its command that merge does not take, for those are what decides the result. merge
// makes the command line of the whole from them and from its own options, and runs that: there is no second way to a
// result. A part could have been written by anybody, so nothing but these options is taken from it, and none that names
// a file to write is among them. Tested by: tests/cli/shard_test.py
#include <algorithm>
#include <charconv>
#include <filesystem>
#include <iostream>

#include "cli/commands.hpp"
#include "cli/terminal.hpp"

namespace lanyard::cli {

namespace {

namespace fs = std::filesystem;

const OptionRow* find_option(const CommandRow& command, const std::string& name) {
    const auto at = std::find_if(command.options.begin(), command.options.end(),
                                 [&](const OptionRow& row) { return row.name == name; });
    return at == command.options.end() ? nullptr : &*at;
}

bool is_recorded(const OptionRow& row) {
    const bool is_written = row.takes == Takes::file || row.takes == Takes::folder;
    return !row.positional() && !is_written && row.name != "--shard" &&
           find_option(*find_command("merge"), row.name) == nullptr;
}

// "check", "--claim=oil cut", "--examples=".
std::vector<std::string> recorded(const CommandLine& line) {
    std::vector<std::string> out{line.command->name};
    for (const OptionRow& row : line.command->options)
        if (is_recorded(row))
            for (const std::string& value : line.texts(row.name))
                out.push_back(row.name + "=" + (row.takes == Takes::nothing ? "" : value));
    return out;
}

std::optional<unsigned> to_number(const std::string& text) {
    unsigned n = 0;
    const auto [stop, error] = std::from_chars(text.data(), text.data() + text.size(), n);
    return error == std::errc() && stop == text.data() + text.size() ? std::optional(n) : std::nullopt;
}

// The name of a rule pack where the command line of the parts was given, as it has to be written here.
std::string pack_from_here(const std::string& pack, const fs::path& folder) {
    const fs::path there = folder / pack;
    std::error_code error;
    const bool is_path = pack.find('/') != std::string::npos || pack.ends_with(".json");
    return is_path && !folder.empty() && fs::exists(there, error) ? there.lexically_normal().string() : pack;
}

// The line of the whole, as far as the parts tell it.
std::variant<CommandLine, UsageError> line_of(const api::Parts& parts) {
    const UsageError foreign{"the options in these parts are not those of a command that can be shared",
                             "make the parts anew"};
    CommandLine out;
    out.command = parts.asked.empty() ? nullptr : find_command(parts.asked.front());
    if (out.command == nullptr || find_option(*out.command, "--shard") == nullptr) return foreign;
    out.values["MODEL"] = {parts.model.string()};
    for (std::size_t i = 1; i < parts.asked.size(); ++i) {
        const std::string& word = parts.asked[i];
        const std::size_t end = word.find('=');
        const OptionRow* row = end == std::string::npos ? nullptr : find_option(*out.command, word.substr(0, end));
        if (row == nullptr || !is_recorded(*row)) return foreign;
        out.values[row->name].push_back(word.substr(end + 1));
    }
    if (!parts.folder.empty() && out.has("--rules")) {
        std::vector<std::string> packs = packs_of(out);
        for (std::string& pack : packs) pack = pack_from_here(pack, parts.folder);
        out.values["--rules"] = packs;
    }
    return out;
}

// What merge was given besides.
std::optional<UsageError> add_own(const CommandLine& merge, CommandLine& out) {
    for (const OptionRow& row : merge.command->options) {
        const bool is_log = row.name == "--log" || row.name == "--log-level";  // it is begun already
        if (row.positional() || is_log || !merge.has(row.name)) continue;
        const std::vector<std::string> values = merge.texts(row.name);
        if (find_option(*out.command, row.name) == nullptr)
            return UsageError{"these are parts of lanyard " + out.command->name + ", which has no " + row.name,
                              "lanyard " + out.command->name + " --help shows its options"};
        out.values[row.name] = values;
    }
    return check_line(out);
}

// `all`: how many things there are.
std::string text_of(const api::Share& share, const std::string& things, std::optional<std::size_t> all) {
    constexpr std::size_t max_named = 3;
    const std::string head = "Part " + std::to_string(share.number) + " of " + std::to_string(share.of) + ": ";
    if (share.of == 1) return head + "all " + things + "\n";
    if (all && share.number > *all) return head + "no " + things + ", there are only " + std::to_string(*all) + "\n";
    std::string names;
    std::size_t n = share.number;
    for (std::size_t k = 0; k < max_named && (!all || n <= *all); ++k, n += share.of)
        names += (k == 0 ? "" : ", ") + std::to_string(n);
    const bool more = !all || n <= *all;
    return head + things + " " + names + (more ? " ..." : "") + (all ? " of " + std::to_string(*all) : "") + "\n";
}

}  // namespace

std::variant<std::optional<api::Share>, UsageError> read_share(const CommandLine& line) {
    const auto given = line.text("--shard"), part = line.text("--part");
    if (!given && !part) return std::nullopt;
    if (!given) return UsageError{"--part needs --shard", "lanyard help merge"};
    if (!part) return UsageError{"--shard needs --part", "--part names the file that keeps what this share found out"};
    const std::size_t slash = given->find('/');
    const auto number = to_number(given->substr(0, slash));
    const auto of = slash == std::string::npos ? std::nullopt : to_number(given->substr(slash + 1));
    if (!number || !of || *number < 1 || *number > *of)
        return UsageError{"--shard cannot be \"" + harmless(*given) + "\"", "the second of eight shares is 2/8"};
    if (line.has("--fresh"))
        return UsageError{"--fresh and --shard cannot be combined", "delete the part to search for everything anew"};
    for (const OptionRow& row : line.command->options) {
        const bool is_written = !row.reads && (row.takes == Takes::file || row.takes == Takes::folder);
        if (is_written && line.has(row.name) && row.name != "--part" && row.name != "--log")
            return UsageError{
                row.name + " and --shard cannot be combined",
                row.name == "--keep" ? "the part keeps what was found" : "lanyard merge writes it, from all parts"};
    }
    return api::Share{*number, *of, *part, recorded(line)};
}

std::string share_text(const api::Share& share, const api::Model& model, const std::vector<std::string>& wanted) {
    std::size_t all = 0;
    for (const api::ClaimInfo& claim : model.claims())
        if (wanted.empty() || std::find(wanted.begin(), wanted.end(), claim.id) != wanted.end()) ++all;
    return text_of(share, "claims", all);
}
std::string mutants_share_text(const api::Share& share) { return text_of(share, "mutants", std::nullopt); }

std::optional<UsageError> part_not_written(const std::string& error) {
    if (error.empty()) return std::nullopt;
    return UsageError{error, "the part was not written"};
}

Exit merge_command(const CommandLine& line) {
    const std::vector<std::string> names = line.texts("PART");
    const auto read = api::read_parts({names.begin(), names.end()});
    if (const auto* rejected = std::get_if<api::Rejected>(&read)) return complain(*rejected);
    const auto& parts = std::get<api::Parts>(read);
    auto made = line_of(parts);
    if (const auto* error = std::get_if<UsageError>(&made)) return complain(*error);
    auto& whole = std::get<CommandLine>(made);
    if (auto error = add_own(line, whole)) return complain(*error);
    if (auto error = check_targets(whole)) return complain(*error);
    for (const std::string& warning : parts.warnings) std::cerr << "lanyard: " << harmless(warning) << '\n';
    if (whole.command->name == "check") return check_command(whole, parts);
    if (whole.command->name == "faults") return faults_command(whole, parts);
    return mutants_command(whole, parts);
}

}  // namespace lanyard::cli
