#include "lang/lexer.hpp"

#include <array>
#include <optional>

#include "base/characters.hpp"
#include "lang/lookalike.hpp"

namespace lanyard::lang {

namespace {

bool is_word_part(char c) { return is_letter(c) || is_digit(c) || c == '_'; }
bool is_space(char c) { return c == ' ' || c == '\t' || c == '\n' || c == '\r'; }
bool is_ascii(char c) { return static_cast<unsigned char>(c) < 0x80; }

// Twins of signs, not of letters: they end a word.
bool is_operator(const std::string& twin) {
    return !twin.empty() && (!is_word_part(twin[0]) || twin == "AND" || twin == "OR" || twin == "NOT");
}

// Longest first. The second column is how this language writes it; empty: the sign has no meaning here.
struct Sign {
    const char* written;
    const char* meant;
};
constexpr std::array<Sign, 36> signs{{
    {"<=", "<="},  {">=", ">="}, {"<>", "<>"}, {"->", "->"}, {"..", ".."}, {":=", ":="}, {"==", "="}, {"!=", "<>"},
    {"&&", "AND"}, {"||", "OR"}, {"=>", ">="}, {"=<", "<="}, {"**", ""},   {"(", "("},   {")", ")"},  {",", ","},
    {"+", "+"},    {"-", "-"},   {"*", "*"},   {"/", "/"},   {"<", "<"},   {">", ">"},   {"=", "="},  {"%", "%"},
    {"&", "AND"},  {"|", "OR"},  {"!", "NOT"}, {"~", "NOT"}, {"[", "("},   {"]", ")"},   {"{", "("},  {"}", ")"},
    {"^", ""},     {";", ""},    {":", ""},    {"#", ""},
}};

class Lexer {
 public:
    explicit Lexer(TextReport& report) : report_(report), text_(report.text()) {}

    std::vector<Token> run() {
        while (at_ < text_.size()) {
            const char c = text_[at_];
            if (is_space(c)) {
                ++at_;
            } else if (is_digit(c) || (c == '.' && is_digit(peek(1)))) {
                number();
            } else if (is_letter(c) || c == '_') {
                word();
            } else if (!is_ascii(c)) {
                foreign();
            } else {
                sign();
            }
        }
        tokens_.push_back({TokenKind::end, {text_.size(), text_.size()}, "", 0});
        return std::move(tokens_);
    }

 private:
    TextReport& report_;
    const std::string& text_;
    std::size_t at_ = 0;
    std::vector<Token> tokens_;

    char peek(std::size_t ahead) const { return at_ + ahead < text_.size() ? text_[at_ + ahead] : '\0'; }

    void push(TokenKind kind, std::size_t begin, std::string text, Rational value = 0) {
        tokens_.push_back({kind, {begin, at_}, std::move(text), std::move(value)});
    }

    // "K1.welded", "X1.3": terminals and faults of a part are named behind a point.
    bool joins_words() const { return text_[at_] == '.' && (is_letter(peek(1)) || is_digit(peek(1))); }

    void skip_digits() {
        while (is_digit(peek(0))) ++at_;
    }

    void number() {
        const std::size_t begin = at_;
        skip_digits();
        if (peek(0) == '.' && is_digit(peek(1))) {
            ++at_;
            skip_digits();
        }
        const bool power_follows = is_digit(peek(1)) || ((peek(1) == '+' || peek(1) == '-') && is_digit(peek(2)));
        if ((peek(0) == 'e' || peek(0) == 'E') && power_follows) {
            at_ += 2;
            skip_digits();
        }
        bool tail = false;  // "1.2.3", "5.", "1_000" and "1,5": one mistake, not several
        while ((peek(0) == '.' && peek(1) != '.') || ((peek(0) == '_' || peek(0) == ',') && is_digit(peek(1)))) {
            tail = true;
            ++at_;
            skip_digits();
        }
        const std::string written = text_.substr(begin, at_ - begin);
        const auto value = tail ? std::nullopt : parse_decimal(written);
        if (!value) report_bad_number({begin, at_}, written);
        push(value ? TokenKind::number : TokenKind::bad, begin, written, value.value_or(0));
    }

    void report_bad_number(const Span& span, const std::string& written) {
        std::string hint = "write it in the form 12, 0.5 or 1.5e3";
        if (written.front() == '.') hint = "write `0" + written + "`";
        if (written.back() == '.') hint = "write `" + written.substr(0, written.size() - 1) + "`";
        if (written.find('_') != std::string::npos) hint = "write the digits without `_`";
        const std::size_t comma = written.find(',');
        if (comma != std::string::npos)
            hint = "write `" + written.substr(0, comma) + "." + written.substr(comma + 1) +
                   "`, or a space after the comma if these are two inputs";
        const std::size_t zeros = written.find_first_not_of('0');
        if (written.front() == '0' && zeros != std::string::npos && is_digit(written[zeros]))
            hint = "write it without zeros in front: `" + written.substr(zeros) + "`";
        report_.error("bad-number", span, report_.quote(span) + " is not a number that can be used here",
                      "numbers have a decimal point with digits on both sides, and an exponent of at most 99", hint);
    }

    // A name, key word or unit. Letters that only look right are told once for each word and read as what they look
    // like, so that the same word is not also unknown.
    void word() {
        const std::size_t begin = at_;
        std::string folded;
        std::optional<std::pair<std::size_t, Character>> first_foreign;
        bool unreadable = false;
        while (at_ < text_.size()) {
            if (is_ascii(text_[at_])) {
                if (!is_word_part(text_[at_]) && !joins_words()) break;
                folded += text_[at_++];
                continue;
            }
            const Character c = character_at(text_, at_);
            const std::string twin = c.valid ? ascii_twin(c.code) : "";
            if (is_operator(twin)) break;
            if (!first_foreign) first_foreign = {at_, c};
            unreadable = unreadable || twin.empty();
            folded += twin;
            at_ += c.length;
        }
        if (first_foreign) report_letter(first_foreign->first, first_foreign->second, unreadable ? "" : folded);
        push(unreadable ? TokenKind::bad : TokenKind::word, begin, folded);
    }

    void report_letter(std::size_t at, const Character& c, const std::string& meant) {
        const Span span{at, at + c.length};
        if (!c.valid) {
            report_.error("not-ascii", span, "there is a byte here that is not a character",
                          "the file is not in UTF-8, or it is damaged",
                          "save the file as UTF-8 and type this word again");
            return;
        }
        const std::string shown = report_.quote(span) + " (" + code_point_text(c.code) + ")";
        const std::string twin = ascii_twin(c.code);
        const std::string hint = meant.empty() ? "write the word without this character" : "write `" + meant + "`";
        if (twin.size() == 1 && is_letter(twin[0]))
            report_.error("not-ascii", span, shown + " is not the letter `" + twin + "`; it only looks like it",
                          "two names that look the same would be different signals",
                          meant.empty() ? hint : "type the word again: `" + meant + "`");
        else
            report_.error("not-ascii", span, shown + " cannot be part of a name or unit",
                          "names and units consist of the letters a to z and A to Z, digits and underscores", hint);
    }

    // A character outside of ASCII that does not continue a word.
    void foreign() {
        const Character c = character_at(text_, at_);
        const std::string twin = c.valid ? ascii_twin(c.code) : "";
        if (!is_operator(twin)) return word();
        const std::size_t begin = at_;
        at_ += c.length;
        const Span span{begin, at_};
        const std::string shown = report_.quote(span) + " (" + code_point_text(c.code) + ")";
        if (twin == " ") {
            report_.error("not-ascii", span,
                          "there is a character here that cannot be seen (" + code_point_text(c.code) + ")",
                          "it looks like a space or like nothing, and is neither", "delete it, or type a plain space");
            return;
        }
        report_.error("not-ascii", span, shown + " is not a sign that can be used here", "", "write `" + twin + "`");
        const bool is_word = is_letter(twin[0]);
        push(is_word ? TokenKind::word : TokenKind::sign, begin, twin);
    }

    void sign() {
        const std::size_t begin = at_;
        for (const Sign& s : signs) {
            const std::string_view written = s.written;
            if (written[0] != text_[at_] || text_.compare(at_, written.size(), written) != 0) continue;
            at_ += written.size();
            const std::string_view meant = s.meant;
            if (meant == written) return push(TokenKind::sign, begin, s.meant);
            const Span span{begin, at_};
            if (meant.empty()) break;
            report_.error("syntax-expression", span, report_.quote(span) + " is not used here", "",
                          "write `" + std::string(meant) + "`");
            return push(is_letter(meant[0]) ? TokenKind::word : TokenKind::sign, begin, s.meant);
        }
        if (at_ == begin) ++at_;
        const Span span{begin, at_};
        const bool control = static_cast<unsigned char>(text_[begin]) < 0x20 || text_[begin] == 0x7F;
        report_.error("syntax-expression", span,
                      control ? "there is a control character here" : report_.quote(span) + " has no meaning here", "",
                      control ? "delete it" : hint_for(text_[begin]));
        push(TokenKind::bad, begin, "");
    }

    static std::string hint_for(char c) {
        switch (c) {
            case '.':
                return "a point is used only inside a number, and two points between the ends of an interval";
            case '#':
                return "times are written as number and unit: 500 ms, 1.5 s";
            case '"':
            case '\'':
                return "names are written without quotation marks";
            default:
                return "see `lanyard help expressions` for the signs that exist";
        }
    }
};

}  // namespace

std::vector<Token> lex(TextReport& report) { return Lexer(report).run(); }

}  // namespace lanyard::lang
