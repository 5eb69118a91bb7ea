#include "base/characters.hpp"

#include <algorithm>

namespace lanyard {

namespace {

// How many bytes a character takes that would move the terminal's cursor about or command it (ISO 6429), or turn the
// direction of writing so that a text seems to say something else (Unicode Standard Annex 9). How wide a tab is is
// nobody's to know. 0: it is none.
std::size_t length_of_unprintable(std::string_view text) {
    const auto byte = [&](std::size_t i) { return i < text.size() ? static_cast<unsigned char>(text[i]) : 0U; };
    if (byte(0) < 0x20 || byte(0) == 0x7F) return 1;
    if (byte(0) == 0xC2 && byte(1) >= 0x80 && byte(1) < 0xA0) return 2;           // U+0080 .. U+009F
    const bool turns = byte(1) == 0x80 && byte(2) >= 0xAA && byte(2) <= 0xAE;     // U+202A .. U+202E
    const bool isolates = byte(1) == 0x81 && byte(2) >= 0xA6 && byte(2) <= 0xA9;  // U+2066 .. U+2069
    return byte(0) == 0xE2 && (turns || isolates) ? 3 : 0;
}

}  // namespace

std::string sanitize_for_terminal(std::string_view text) {
    std::string out;
    while (!text.empty()) {
        const std::size_t length = length_of_unprintable(text);
        out += length > 0 ? ' ' : text.front();
        text.remove_prefix(std::max<std::size_t>(length, 1));
    }
    return out;
}

}  // namespace lanyard
