#include "model/split.hpp"

#include <algorithm>

#include "model/reader.hpp"

namespace lanyard::model {

namespace {

bool is_white(char c) { return c == ' ' || c == '\t' || c == '\n' || c == '\r'; }

}  // namespace

LocatedText part_of(const LocatedText& whole, std::size_t from, std::size_t length) {
    LocatedText part{whole.text.substr(from, length), whole.place, whole.escaped, whole.pointer};
    if (whole.escaped) return part;
    part.place.column += from;
    part.place.length = std::max<std::size_t>(part.text.size(), 1);
    return part;
}

LocatedText trimmed(const LocatedText& text) {
    std::size_t from = 0;
    std::size_t to = text.text.size();
    while (from < to && is_white(text.text[from])) ++from;
    while (to > from && is_white(text.text[to - 1])) --to;
    return part_of(text, from, to - from);
}

std::vector<LocatedText> split_at_commas(const LocatedText& text) {
    std::vector<LocatedText> parts;
    std::size_t from = 0;
    int depth = 0;
    for (std::size_t i = 0; i <= text.text.size(); ++i) {
        const char c = i < text.text.size() ? text.text[i] : ',';
        if (c == '(') ++depth;
        if (c == ')' && depth > 0) --depth;
        if (c != ',' || (depth > 0 && i < text.text.size())) continue;
        parts.push_back(trimmed(part_of(text, from, i - from)));
        from = i + 1;
    }
    return parts;
}

std::optional<LocatedText> behind_words(const LocatedText& text, const std::string& words) {
    std::size_t at = 0;
    const std::string& t = text.text;
    for (const char w : words) {
        if (w != ' ') {
            if (at >= t.size() || t[at] != w) return std::nullopt;
            ++at;
            continue;
        }
        if (at >= t.size() || !is_white(t[at])) return std::nullopt;
        while (at < t.size() && is_white(t[at])) ++at;
    }
    if (at < t.size() && !is_white(t[at])) return std::nullopt;  // a longer word
    return trimmed(part_of(text, at, t.size() - at));
}

std::pair<LocatedText, LocatedText> first_word(const LocatedText& text) {
    const LocatedText all = trimmed(text);
    std::size_t to = 0;
    while (to < all.text.size() && !is_white(all.text[to])) ++to;
    return {part_of(all, 0, to), trimmed(part_of(all, to, all.text.size() - to))};
}

}  // namespace lanyard::model
