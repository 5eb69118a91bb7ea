// A folder of models with the verdicts that they must have: NAME.json and NAME.expect.json beside it,
// {"claims": {id: verdict}, "work": limit of solver work (optional), "note": text (optional)}.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "lanyard/lanyard.hpp"

namespace lanyard::test {

struct Folder {
    std::filesystem::path path;
    // Outcome of every file in it; none: files may end as their expectations say, and other files may lie beside them.
    std::optional<api::Outcome> outcome;
    std::size_t every = 1;  // only every so manyth file
};

// What is wrong, one line each; empty if everything is as it must be.
std::vector<std::string> check_folder(const Folder& folder);

// The JSON text of a model's check must not depend on the number of threads.
std::vector<std::string> check_jobs(const std::filesystem::path& model);

}  // namespace lanyard::test
