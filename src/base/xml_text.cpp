// Sources: XML 1.0 (fifth edition), 2.2 and 2.4.
#include "base/xml_text.hpp"

#include "base/characters.hpp"

namespace lanyard::base {

namespace {

constexpr std::string_view replacement = "\xEF\xBF\xBD";  // U+FFFD

// XML 1.0, 2.2. ASCII has been seen to.
bool is_known(const Character& c) { return c.valid && c.code != 0xFFFE && c.code != 0xFFFF; }

enum class LineEnds { become_spaces, stay };

std::string escaped(char c, LineEnds ends) {
    if (ends == LineEnds::stay && (c == '\n' || c == '\t')) return std::string(1, c);
    switch (c) {
        case '&':
            return "&amp;";
        case '<':
            return "&lt;";
        case '>':
            return "&gt;";
        case '"':
            return "&quot;";
        default:
            return std::string(1, static_cast<unsigned char>(c) < 0x20 || c == 0x7F ? ' ' : c);
    }
}

std::string written(std::string_view text, LineEnds ends) {
    std::string out;
    while (!text.empty()) {
        const Character c = character_at(text, 0);
        const std::size_t length = is_known(c) ? c.length : 1;
        if (c.code < 0x80)
            out += escaped(text.front(), ends);
        else
            out += is_known(c) ? text.substr(0, length) : replacement;
        text.remove_prefix(length);
    }
    return out;
}

}  // namespace

std::string xml_text(std::string_view text) { return written(text, LineEnds::become_spaces); }
std::string xml_lines(std::string_view text) { return written(text, LineEnds::stay); }

std::string Identifiers::fresh(std::string_view name) {
    std::string id;
    for (const char c : name) id += is_letter(c) || is_digit(c) ? c : '_';
    if (id.empty() || !is_letter(id.front())) id.insert(0, "x_");
    std::string out = id;
    for (int k = 2; !taken_.insert(lower(out)).second; ++k) out = id + "_" + std::to_string(k);
    return out;
}

}  // namespace lanyard::base
