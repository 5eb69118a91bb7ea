// Characters outside of ASCII that get into a text from word processors, foreign keyboards and web pages.
#pragma once

#include <string>

#include "base/layers.hpp"

namespace lanyard::lang {

// What was meant in ASCII ("o" for the Cyrillic letter, ">=" for the sign, " " for a special space); empty if nobody
// can tell.
std::string ascii_twin(char32_t code);

// "U+043E"
std::string code_point_text(char32_t code);

}  // namespace lanyard::lang
