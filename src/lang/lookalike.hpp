// Characters outside of ASCII that get into a text from word processors, foreign keyboards and web pages.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace lanyard {

struct Character {
    char32_t code = 0;
    std::size_t length = 1;  // bytes
    bool valid = true;       // UTF-8
};

// The character at `offset`, which must be inside of the text.
Character character_at(std::string_view text, std::size_t offset);

// What was meant in ASCII ("o" for the Cyrillic letter, ">=" for the sign, " " for a special space); empty if nobody
// can tell.
std::string ascii_twin(char32_t code);

// "U+043E"
std::string code_point_text(char32_t code);

}  // namespace lanyard
