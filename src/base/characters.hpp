// Characters of the language, of numbers and names: ASCII only, whatever the locale.
#pragma once

#include <string>
#include <string_view>

namespace lanyard {

inline bool is_digit(char c) { return c >= '0' && c <= '9'; }
inline bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }

inline std::string lower(std::string_view text) {
    std::string out{text};
    for (char& c : out)
        if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    return out;
}

// The text without what could play with a terminal; each such character becomes a blank. One line stays one line.
std::string sanitize_for_terminal(std::string_view text);

}  // namespace lanyard
