// Packs by name: those of the program, and folders of the user's own.
#pragma once

#include <string>
#include <variant>
#include <vector>

#include "lanyard/lanyard.hpp"
#include "model/packs.hpp"

namespace lanyard::api {

// `name` as behind --rules: the id of a shipped pack, a folder that holds a pack.json, or such a file.
std::variant<PackPtr, Rejected> find_pack(const std::string& name);
std::variant<std::vector<PackPtr>, Rejected> find_packs(const std::vector<std::string>& names);

}  // namespace lanyard::api
