// Characters of the language, of numbers and names: ASCII only, whatever the locale. Characters of UTF-8 in texts.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "base/layers.hpp"

namespace lanyard::base {

inline bool is_digit(char c) { return c >= '0' && c <= '9'; }
inline bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }

inline std::string lower(std::string_view text) {
    std::string out{text};
    for (char& c : out)
        if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    return out;
}

struct Character {
    char32_t code = 0;
    std::size_t length = 1;  // bytes
    bool valid = true;       // UTF-8; otherwise `code` is the byte
};

// The character at `offset`, which must be inside of the text.
Character character_at(std::string_view text, std::size_t offset);

// A byte that is not the first of its character.
inline bool continues_character(char c) { return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U; }

// Columns that a text takes: characters, not bytes.
std::size_t columns_of(std::string_view text);

// The text, or its first `bytes` bytes or fewer, so that no character is cut.
std::string_view first_bytes(std::string_view text, std::size_t bytes);

// Every text that somebody reads in a terminal or as one line goes through this. Nothing in it can command the
// terminal or turn the direction of writing: blanks stand for tabs and line ends, question marks for other controls
// (ISO 6429), for marks of direction (Unicode Standard Annex 9) and for what is no UTF-8, one for each.
std::string sanitize_for_terminal(std::string_view text);

// The parts with `between` between them.
std::string joined(const std::vector<std::string>& parts, const std::string& between);

}  // namespace lanyard::base
