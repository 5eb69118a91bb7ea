// A rule pack in its folder: pack.json, and beside it two models for each rule that can be judged, RULE.satisfies.json
// and RULE.violates.json.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

namespace lanyard::test {

// What is wrong with one pack and its twins, one line each; empty if everything is as it must be.
std::vector<std::string> check_pack(const std::filesystem::path& folder);

// What is wrong between the packs of a folder: roles that mean two things, conflicts with rules that do not exist.
std::vector<std::string> check_together(const std::filesystem::path& rules);

}  // namespace lanyard::test
