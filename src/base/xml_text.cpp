// Sources: XML 1.0 (fifth edition), 2.2 and 2.4; UTF-8 as in The Unicode Standard, table 3-7 (well-formed byte
// sequences).
#include "base/xml_text.hpp"

#include <cstdint>

#include "base/characters.hpp"

namespace lanyard {

namespace {

constexpr std::string_view replacement = "\xEF\xBF\xBD";  // U+FFFD

// Bytes of the character that `text` begins with, which is not ASCII; 0 if it is not well-formed or none of XML's.
std::size_t length_of(std::string_view text) {
    const auto lead = static_cast<unsigned char>(text.front());
    const std::size_t length = lead >= 0xF0 ? 4 : lead >= 0xE0 ? 3 : 2;
    if (lead < 0xC2 || lead > 0xF4 || text.size() < length) return 0;
    std::uint32_t code = lead & (0xFFU >> (length + 1));
    for (std::size_t i = 1; i < length; ++i) {
        const auto byte = static_cast<unsigned char>(text[i]);
        if ((byte & 0xC0U) != 0x80U) return 0;
        code = code << 6U | (byte & 0x3FU);
    }
    constexpr std::uint32_t least[] = {0, 0, 0x80, 0x800, 0x10000};
    const bool surrogate = code >= 0xD800 && code <= 0xDFFF;
    const bool exists = code >= least[length] && code <= 0x10FFFF && !surrogate && code != 0xFFFE && code != 0xFFFF;
    return exists ? length : 0;
}

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
        std::size_t length = 1;
        if (static_cast<unsigned char>(text.front()) < 0x80) {
            out += escaped(text.front(), ends);
        } else if (const std::size_t known = length_of(text); known > 0) {
            length = known;
            out += text.substr(0, length);
        } else {
            out += replacement;
        }
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

}  // namespace lanyard
