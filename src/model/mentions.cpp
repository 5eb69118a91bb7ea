#include "model/mentions.hpp"

namespace lanyard {

namespace {

bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }
bool is_digit(char c) { return c >= '0' && c <= '9'; }

}  // namespace

std::vector<Mention> mentions(std::string_view text) {
    std::vector<Mention> all;
    int depth = 0;
    int earlier_from = 0;  // depth of the outermost previous( that is open, 0 = none
    bool opens_previous = false;
    for (std::size_t i = 0; i < text.size();) {
        const char c = text[i];
        if (is_digit(c)) {  // "3e5" holds no word
            while (i < text.size() && (is_digit(text[i]) || text[i] == '.' || is_letter(text[i]))) ++i;
            continue;
        }
        if (is_letter(c)) {
            const std::size_t from = i;
            while (i < text.size() && (is_letter(text[i]) || is_digit(text[i]) || text[i] == '_')) ++i;
            std::string word(text.substr(from, i - from));
            opens_previous = word == "previous";
            if (!opens_previous) all.push_back({std::move(word), earlier_from > 0, from});
            continue;
        }
        ++i;
        if (c == '(') {
            ++depth;
            if (opens_previous && earlier_from == 0) earlier_from = depth;
        } else if (c == ')') {
            if (depth == earlier_from) earlier_from = 0;
            if (depth > 0) --depth;
        }
        if (c != ' ' && c != '\t' && c != '\n') opens_previous = false;
    }
    return all;
}

}  // namespace lanyard
