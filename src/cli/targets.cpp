// Files and folders that are written beside the text on the terminal.
//
// Before anything is judged it is looked at where everything would be written: nothing that is read may be written
// over, whatever it is called - by a link, a second name, another spelling -, and no two outputs may meet.
#include <algorithm>
#include <filesystem>

#include "cli/commands.hpp"
#include "cli/parse.hpp"
#include "cli/terminal.hpp"

namespace lanyard::cli {

namespace {

namespace fs = std::filesystem;

struct Named {
    std::string option;  // "--json", or what is read: "the model"
    fs::path path;
    bool is_folder = false;
};

std::optional<UsageError> check_file(const std::string& file) {
    std::error_code error;
    const fs::path folder = fs::path(file).parent_path();
    if (!folder.empty() && !fs::is_directory(folder, error))
        return UsageError{"cannot write " + file, "the folder does not exist: " + folder.string()};
    if (fs::is_directory(file, error)) return UsageError{"cannot write " + file, "it is a folder"};
    return std::nullopt;
}

std::optional<UsageError> check_folder(const std::string& folder) {
    const std::string refusal = api::folder_refusal(folder);
    if (refusal.empty()) return std::nullopt;
    return UsageError{"cannot write into " + folder,
                      harmless(refusal) + "; name an empty or new folder (lanyard help outputs)"};
}

fs::path whole(const fs::path& path) {
    std::error_code error;
    fs::path out = fs::weakly_canonical(fs::absolute(path, error), error);
    if (error) out = fs::absolute(path, error).lexically_normal();
    return out.has_filename() ? out : out.parent_path();
}

// The same file or folder. What cannot be written over - a terminal, a pipe, /dev/null - is the same by its name alone.
bool same(const fs::path& a, const fs::path& b) {
    std::error_code error;
    const fs::file_status found = fs::status(a, error);
    if (fs::exists(found) && fs::exists(b, error) && (fs::is_regular_file(found) || fs::is_directory(found)))
        return fs::equivalent(a, b, error);
    return whole(a) == whole(b);
}

bool lies_in(const fs::path& inner, const fs::path& folder) {
    const fs::path in = whole(inner), out = whole(folder);
    return std::mismatch(out.begin(), out.end(), in.begin(), in.end()).first == out.end();
}

std::vector<Named> inputs_of(const CommandLine& line) {
    std::vector<Named> out;
    for (const OptionRow& row : line.command->options)
        if (row.reads)
            for (const std::string& file : line.texts(row.name))
                out.push_back({row.name == "MODEL"  ? "the model"
                               : row.name == "PART" ? "a part"
                                                    : "what " + row.name + " reads",
                               file});
    for (const std::string& pack : packs_of(line))
        for (const fs::path& file : {fs::path(pack), fs::path(pack) / "pack.json"})
            out.push_back({"the rule pack", file});
    return out;
}

std::vector<Named> outputs_of(const CommandLine& line) {
    std::vector<Named> out;
    for (const OptionRow& row : line.command->options) {
        const bool is_written = !row.reads && (row.takes == Takes::file || row.takes == Takes::folder);
        if (const auto target = is_written ? line.text(row.name) : std::nullopt)
            out.push_back({row.name, *target, row.takes == Takes::folder});
    }
    return out;
}

std::optional<UsageError> check_pair(const Named& a, const Named& b) {
    const UsageError together{"cannot write both " + a.option + " and " + b.option + " to " + a.path.string(),
                              "give each its own name"};
    if (same(a.path, b.path)) return together;
    for (const auto& [inner, outer] : {std::pair(&a, &b), std::pair(&b, &a)})
        if (outer->is_folder && lies_in(inner->path, outer->path))
            return UsageError{"cannot write " + inner->option + " into the folder of " + outer->option,
                              "that folder is replaced as a whole: give each its own place"};
    return std::nullopt;
}

}  // namespace

// A check can take minutes: what would spoil its end is said at its beginning.
std::optional<UsageError> check_targets(const CommandLine& line) {
    const std::vector<Named> inputs = inputs_of(line), outputs = outputs_of(line);
    for (auto out = outputs.begin(); out != outputs.end(); ++out) {
        const std::string name = out->path.string();
        for (auto before = outputs.begin(); before != out; ++before)
            if (auto wrong = check_pair(*before, *out)) return wrong;
        if (auto wrong = out->is_folder ? check_folder(name) : check_file(name)) return wrong;
        for (const Named& in : inputs)
            if (same(in.path, out->path))
                return UsageError{out->option + " would overwrite " + in.option + ", " + in.path.string(),
                                  "give " + out->option + " another name"};
    }
    return std::nullopt;
}

std::optional<UsageError> read_counterexamples(const CommandLine& line, api::CheckOptions& options) {
    const auto count = line.count("--counterexamples");
    if (count && *count > 20) return UsageError{"--counterexamples cannot be " + std::to_string(*count), "1 to 20"};
    if (count) options.counterexamples = static_cast<unsigned>(*count);
    return std::nullopt;
}

std::optional<UsageError> read_limits(const CommandLine& line, api::Limits& limits) {
    if (auto jobs = line.count("--jobs")) {
        if (*jobs > 1024) return UsageError{"--jobs cannot be " + std::to_string(*jobs), "at most 1024"};
        limits.jobs = static_cast<unsigned>(*jobs);
    }
    limits.time_s = line.seconds("--time");
    limits.work = line.count("--work");
    limits.memory_mb = line.count("--memory");
    return std::nullopt;
}

std::optional<UsageError> read_keep(const CommandLine& line, api::CheckOptions& options) {
    options.keep = line.text("--keep");
    options.fresh = line.has("--fresh");
    const char* folder = std::getenv("LANYARD_KEEP");
    if (options.keep || folder == nullptr || *folder == '\0') {
        if (options.fresh && !options.keep)
            return UsageError{"--fresh without a kept file", "give --keep FILE too, or set LANYARD_KEEP"};
        return std::nullopt;
    }
    std::error_code error;
    std::filesystem::create_directories(folder, error);
    if (!std::filesystem::is_directory(folder, error))
        return UsageError{"LANYARD_KEEP is " + harmless(folder) + ", which is no folder and cannot be made one",
                          "results are kept there (lanyard help limits); unset it, or name another folder"};
    options.keep = api::kept_file(folder, line.text("MODEL").value_or(""));
    return std::nullopt;
}

std::optional<UsageError> write_judging(const CommandLine& line, const api::Results& results) {
    if (const auto folder = line.text("--evidence"))
        if (const auto wrong = api::write_folder(*folder, api::evidence_readme(results), api::evidence(results));
            !wrong.empty())
            return UsageError{wrong, "the evidence is not complete"};
    if (!results.keep_error.empty()) return UsageError{results.keep_error, "the results were not kept"};
    return std::nullopt;
}

std::string csv_for(const CommandLine& line, const std::string& csv) {
    return line.text("--csv-separator").value_or("comma") == "semicolon" ? api::semicolon_csv(csv) : csv;
}

std::optional<UsageError> write_targets(const std::vector<std::pair<std::string, std::string>>& files) {
    for (const auto& [name, text] : files) {
        const std::string error = api::write_whole(name, text);
        if (!error.empty()) return UsageError{error, "the results above are valid; this file was not written"};
    }
    return std::nullopt;
}

std::optional<UsageError> write_formats(const CommandLine& line, const api::Results& results, const Formats& formats) {
    std::vector<std::pair<std::string, std::string>> files;
    for (const auto& [option, format] : formats)
        if (const auto file = line.text(option)) {
            const std::string text = api::write(results, format);
            files.emplace_back(*file, format == api::Format::csv ? csv_for(line, text) : text);
        }
    return write_targets(files);
}

}  // namespace lanyard::cli
