// JSON pointers (RFC 6901).
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

#include "base/layers.hpp"

namespace lanyard::model::json {

std::string child(const std::string& pointer, std::string_view key);
std::string child(const std::string& pointer, std::size_t index);

}  // namespace lanyard::model::json
