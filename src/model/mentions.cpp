#include "model/mentions.hpp"

#include "base/characters.hpp"

namespace lanyard::model {

namespace {

bool is_word_part(char c) { return is_letter(c) || is_digit(c) || c == '_'; }

// As in the lexer: "K1.welded" is one word.
bool joins_words(std::string_view text, std::size_t at) {
    return text[at] == '.' && at + 1 < text.size() && (is_letter(text[at + 1]) || is_digit(text[at + 1]));
}

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
            while (i < text.size() && (is_word_part(text[i]) || joins_words(text, i))) ++i;
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

}  // namespace lanyard::model
