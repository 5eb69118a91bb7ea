#include "base/folder.hpp"

#include <unistd.h>

#include <algorithm>
#include <cstdint>
#include <cstring>
#include <optional>
#include <set>
#include <system_error>
#include <utility>

#include "base/file.hpp"

namespace lanyard::base {

namespace fs = std::filesystem;

namespace {

constexpr const char* list_name = "README.txt";
constexpr const char* staging_prefix = ".lanyard-new-";
constexpr const char* list_heading =
    "Written by lanyard, as sha256sum prints it. The folder is replaced only while nothing else lies in it:\n\n";
constexpr const char* own_hash = "  what stands above\n";
constexpr std::size_t largest_list = std::size_t{64} << 20U, hash_length = 64;

using Listed = std::set<std::pair<std::string, std::string>>;  // name, hash

std::string list_text(const std::string& readme, const Listed& files) {
    std::string text = readme + '\n' + list_heading;
    for (const auto& [name, hash] : files) text += hash + "  " + name + '\n';
    return text + sha256_hex(text) + own_hash;
}

// Nothing where the file is none that was written here, or was changed.
std::optional<Listed> read_list(const fs::path& file) {
    const auto text = read_file(file, largest_list);
    const std::size_t tail = hash_length + std::strlen(own_hash);
    if (!text || text->size() < tail || !text->ends_with(own_hash)) return std::nullopt;
    const std::string body = text->substr(0, text->size() - tail);
    const std::size_t heading = body.rfind(list_heading);
    if (heading == std::string::npos || text->substr(body.size(), hash_length) != sha256_hex(body)) return std::nullopt;
    Listed out;
    for (std::size_t at = heading + std::strlen(list_heading); at < body.size();) {
        const std::size_t end = body.find('\n', at);
        if (end == std::string::npos || end < at + hash_length + 3) return std::nullopt;
        out.emplace(body.substr(at + hash_length + 2, end - at - hash_length - 2), body.substr(at, hash_length));
        at = end + 1;
    }
    return out;
}

// What a run that was killed has left; nobody can tell it from a folder of the user's, so it is left alone.
bool is_staging(const fs::path& name) { return name.string().starts_with(staging_prefix); }

struct Content {
    std::vector<std::string> files;  // below the folder
    std::vector<fs::path> folders;   // whole paths, inner ones behind outer ones
    std::string problem;
};

Content content_of(const fs::path& folder) {
    Content out;
    std::error_code error;
    for (fs::recursive_directory_iterator at(folder, error), end; !error && at != end; at.increment(error)) {
        const fs::path& path = at->path();
        const bool is_folder = fs::is_directory(at->symlink_status(error));
        if (is_folder && at.depth() == 0 && is_staging(path.filename())) {
            at.disable_recursion_pending();
        } else if (is_folder) {
            out.folders.push_back(path);
        } else {
            out.files.push_back(path.lexically_relative(folder).generic_string());
        }
    }
    if (error) out.problem = error.message();
    return out;
}

std::string hash_of(const fs::path& file) {
    std::error_code error;
    if (!fs::is_regular_file(fs::symlink_status(file, error))) return "";
    const auto text = read_file(file, SIZE_MAX);
    return text ? sha256_hex(*text) : "";
}

// What is in the folder if all of it may go.
struct Present {
    Content content;
    Listed listed;
    std::string refusal;
};
Present look_at(const fs::path& folder) {
    Present out;
    std::error_code error;
    if (!fs::exists(folder, error)) {
        if (fs::is_symlink(fs::symlink_status(folder, error))) out.refusal = "it is a link to nothing";
        return out;
    }
    if (!fs::is_directory(folder, error)) {
        out.refusal = "it is not a folder";
        return out;
    }
    std::set<std::string> entries;
    for (fs::directory_iterator at(folder, error), end; !error && at != end; at.increment(error))
        if (!is_staging(at->path().filename())) entries.insert(at->path().filename().string());
    if (error) out.refusal = error.message();
    const auto listed = read_list(folder / list_name);
    if (!listed && !entries.empty() && out.refusal.empty())
        out.refusal = "it holds " + *entries.begin() + ", which lanyard did not write there";
    if (!out.refusal.empty()) return out;
    out.content = content_of(folder);
    out.refusal = out.content.problem;
    if (!listed) return out;
    out.listed = *listed;
    for (const auto& name : out.content.files) {
        if (!out.refusal.empty()) break;
        if (name == list_name || out.listed.contains({name, hash_of(folder / name)})) continue;
        const bool known =
            std::any_of(out.listed.begin(), out.listed.end(), [&](const auto& l) { return l.first == name; });
        out.refusal = "it holds " + name +
                      (known ? ", which was changed since lanyard wrote it" : ", which lanyard did not write there");
    }
    for (const auto& path : out.content.folders) {
        const std::string name = path.lexically_relative(folder).generic_string();
        const bool ours = std::any_of(out.listed.begin(), out.listed.end(),
                                      [&](const auto& l) { return l.first.starts_with(name + "/"); });
        if (out.refusal.empty() && !ours) out.refusal = "it holds " + name + ", which lanyard did not write there";
    }
    return out;
}

// A name that nobody else has taken, whatever an earlier run has left.
std::optional<fs::path> new_staging(const fs::path& folder, std::string& problem) {
    std::error_code error;
    for (int n = 0; n < 10'000; ++n) {
        fs::path path = folder / (staging_prefix + std::to_string(::getpid()) + "-" + std::to_string(n));
        if (fs::create_directory(path, error)) return path;
        if (error) break;
    }
    problem = folder.string() + ": " + (error ? error.message() : "no name is free");
    return std::nullopt;
}

std::string stage(const fs::path& staging, const std::vector<FolderFile>& files) {
    std::error_code error;
    for (const auto& file : files) {
        const fs::path path = staging / file.name;
        fs::create_directories(path.parent_path(), error);
        if (error) return path.string() + ": " + error.message();
        if (std::string wrong = write_file(path, file.text); !wrong.empty()) return path.string() + ": " + wrong;
        if (file.is_program)
            fs::permissions(path, fs::perms::owner_exec | fs::perms::group_exec, fs::perm_options::add, error);
    }
    return "";
}

// Whole or not at all, and nothing half is left where it could be taken for somebody else's.
std::string place_list(const fs::path& folder, const fs::path& staging, const std::string& text) {
    std::error_code error;
    const fs::path made = staging / ".list";
    if (std::string wrong = write_file(made, text); !wrong.empty()) return made.string() + ": " + wrong;
    fs::rename(made, folder / list_name, error);
    return error ? (folder / list_name).string() + ": " + error.message() : "";
}

// The old files go, the new ones come.
std::string replace(const fs::path& folder, const Present& old, const fs::path& staging,
                    const std::vector<FolderFile>& files) {
    std::error_code error;
    for (const auto& name : old.content.files)
        if (name != list_name && !fs::remove(folder / name, error)) return name + ": " + error.message();
    for (auto at = old.content.folders.rbegin(); at != old.content.folders.rend(); ++at) fs::remove(*at, error);
    for (const auto& file : files) {
        const fs::path to = folder / file.name;
        fs::create_directories(to.parent_path(), error);
        if (!error) fs::rename(staging / file.name, to, error);
        if (error) return to.string() + ": " + error.message();
    }
    return "";
}

}  // namespace

std::string folder_refusal(const fs::path& folder) { return look_at(folder).refusal; }

std::string write_folder(const fs::path& folder, const std::string& readme, const std::vector<FolderFile>& files) {
    std::error_code error;
    const Present old = look_at(folder);
    if (!old.refusal.empty()) return folder.string() + ": " + old.refusal;
    fs::create_directories(folder, error);
    if (error) return folder.string() + ": " + error.message();
    std::string problem;
    const auto staging = new_staging(folder, problem);
    if (!staging) return problem;
    Listed now;
    for (const auto& file : files) now.emplace(file.name, sha256_hex(file.text));
    Listed both = old.listed;
    both.insert(now.begin(), now.end());
    problem = stage(*staging, files);
    if (problem.empty()) problem = place_list(folder, *staging, list_text(readme, both));
    if (problem.empty()) problem = replace(folder, old, *staging, files);
    if (problem.empty()) problem = place_list(folder, *staging, list_text(readme, now));
    fs::remove_all(*staging, error);
    return problem;
}

}  // namespace lanyard::base
