// Text -> words, numbers and signs.
#pragma once

#include <string>
#include <vector>

#include "base/rational.hpp"
#include "lang/text_report.hpp"

namespace lanyard::lang {

enum class TokenKind {
    end,
    number,
    word,  // keyword, name or unit
    sign,  // operator or bracket; `text` is its spelling in this language
    bad,   // reported already: stands for anything
};

struct Token {
    TokenKind kind = TokenKind::end;
    Span span;
    std::string text;
    Rational number;

    bool is_sign(const char* s) const { return kind == TokenKind::sign && text == s; }
    bool is_word(const char* w) const { return kind == TokenKind::word && text == w; }
};

// Ends with a token of kind `end`. Problems are reported and repaired where it is clear what was meant, so that the
// rest of the text can be judged.
std::vector<Token> lex(TextReport& report);

}  // namespace lanyard::lang
