// The outside world of files: read whole, write whole or not at all.
#pragma once

#include <filesystem>
#include <optional>
#include <string>

#include "base/layers.hpp"

namespace lanyard::base {

// The whole content, or nothing when it cannot be read. `limit` in bytes; a larger file counts as unreadable
// and sets `too_large`.
std::optional<std::string> read_file(const std::filesystem::path& path, std::size_t limit, bool* too_large = nullptr);

// Writes to a temporary file in the same folder and renames it, so that nobody ever sees half a file.
// Returns an error text, empty on success.
std::string write_file(const std::filesystem::path& path, const std::string& content);

// Lower-case hexadecimal SHA-256 (FIPS 180-4).
std::string sha256_hex(const std::string& content);

}  // namespace lanyard::base
