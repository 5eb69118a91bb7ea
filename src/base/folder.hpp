// Folders that lanyard writes whole: evidence, runs, a report.
//
// Two things must not happen: that a file of the user's is overwritten or lost, and that files of an earlier run lie
// beside those of this one. So a folder is written only where it is not there yet, is empty, or holds nothing but what
// lanyard wrote there before, unchanged; then all of that goes and the new files come. README.txt lists what was
// written with its hashes, and its last line is its own: a filled-in card, a note or a model in the folder is noticed.
//
// The new files are written beside the old ones first, in a hidden folder, and moved when all are there. For that
// moment the list holds both, so that a run that is killed leaves a folder that the next one recognises.
// Tested by: tests/cli/targets_test.py
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "base/layers.hpp"

namespace lanyard::base {

struct FolderFile {
    std::string name;  // below the folder, "runs/01.vcd"
    std::string text;
    bool is_program = false;
};

// Why the folder cannot be written; empty if it can.
std::string folder_refusal(const std::filesystem::path& folder);

// `readme`: what stands in README.txt above the list. Returns what went wrong, empty on success.
std::string write_folder(const std::filesystem::path& folder, const std::string& readme,
                         const std::vector<FolderFile>& files);

}  // namespace lanyard::base
