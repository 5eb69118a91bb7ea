#include "base/characters.hpp"

#include <utf8.h>

#include <algorithm>

namespace lanyard::base {

namespace {

bool is_between(char32_t c, char32_t first, char32_t last) { return first <= c && c <= last; }

bool is_control(char32_t c) { return c < 0x20 || is_between(c, 0x7F, 0x9F); }

// LRM, RLM, ALM, embeddings and overrides, isolates: they cannot be seen, and a name with them would change how the
// words around it are read.
bool turns_direction(char32_t c) {
    return c == 0x061C || c == 0x200E || c == 0x200F || is_between(c, 0x202A, 0x202E) || is_between(c, 0x2066, 0x2069);
}

}  // namespace

Character character_at(std::string_view text, std::size_t offset) {
    const auto* const begin = text.data() + offset;
    const auto* end = begin;
    try {
        const auto code = static_cast<char32_t>(utf8::next(end, text.data() + text.size()));
        return {code, static_cast<std::size_t>(end - begin), true};
    } catch (const utf8::exception&) {
        return {static_cast<unsigned char>(*begin), 1, false};
    }
}

std::size_t columns_of(std::string_view text) {
    return text.size() - static_cast<std::size_t>(std::count_if(text.begin(), text.end(), continues_character));
}

std::string_view first_bytes(std::string_view text, std::size_t bytes) {
    if (text.size() <= bytes) return text;
    while (bytes > 0 && continues_character(text[bytes])) --bytes;
    return text.substr(0, bytes);
}

std::string sanitize_for_terminal(std::string_view text) {
    std::string out;
    for (std::size_t at = 0; at < text.size();) {
        const Character c = character_at(text, at);
        if (c.valid && is_between(c.code, '\t', '\r'))
            out += ' ';
        else if (!c.valid || is_control(c.code) || turns_direction(c.code))
            out += '?';
        else
            out += text.substr(at, c.length);
        at += c.length;
    }
    return out;
}

std::string joined(const std::vector<std::string>& parts, const std::string& between) {
    std::string out;
    for (const auto& p : parts) out += (out.empty() ? "" : between) + p;
    return out;
}

}  // namespace lanyard::base
