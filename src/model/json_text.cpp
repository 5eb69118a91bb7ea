// What can be wrong with a text before and beside its JSON, in words for somebody who has never seen a parser.
#include <algorithm>
#include <array>

#include "base/characters.hpp"
#include "model/json.hpp"

namespace lanyard::model::json {

namespace {

std::optional<std::size_t> first_bad_byte(std::string_view text) {
    for (std::size_t at = 0; at < text.size();) {
        const Character c = character_at(text, at);
        if (!c.valid) return at;
        at += c.length;
    }
    return std::nullopt;
}

std::string hex_byte(unsigned char byte) {
    const char* digits = "0123456789ABCDEF";
    return std::string{digits[byte >> 4U], digits[byte & 15U]};
}

bool looks_like_utf16(std::string_view text) { return text.starts_with("\xFF\xFE") || text.starts_with("\xFE\xFF"); }

struct Words {
    std::string what;
    std::string hint;
};

Words at_end(const SourceText& source, std::size_t open) {
    if (open == std::string::npos) return {"the file ends before the model does", ""};
    const char bracket = source.text()[open] == '{' ? '}' : ']';
    const std::string line = std::to_string(source.place_of(open).line);
    return {std::string("the file ends, but a bracket is still open: a ") + bracket + " is missing",
            "the bracket was opened in line " + line};
}

Words inside_string(const std::string& detail) {
    if (detail.find("missing closing quote") != std::string::npos)
        return {"this text never ends: its closing quote is missing", ""};
    if (detail.find("control character") != std::string::npos)
        return {"a text must not hold a line break or another control character",
                "close the quote before the end of the line; a line break inside a text is written \\n"};
    if (detail.find("surrogate") != std::string::npos)
        return {"this \\u sequence is half of a pair", "write the character itself instead"};
    return {"a backslash must be followed by one of \" \\ / b f n r t u", "write two backslashes to get one"};
}

bool begins_a_word(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_'; }

// The last character before `at` that is not white space.
char before(std::string_view text, std::size_t at) {
    while (at > 0) {
        const char c = text[--at];
        if (c != ' ' && c != '\t' && c != '\n' && c != '\r') return c;
    }
    return '\0';
}

// Quotes that a word processor puts in place of plain ones, in UTF-8.
bool begins_with_typographic_quote(std::string_view text) {
    constexpr std::array<std::string_view, 6> quotes = {"\u201C", "\u201D", "\u201E", "\u2018", "\u2019", "\u00AB"};
    return std::any_of(quotes.begin(), quotes.end(), [&](std::string_view q) { return text.starts_with(q); });
}

// A table saved from a spreadsheet: no bracket or quote begins it, and its first line has separators.
bool looks_like_a_table(std::string_view text) {
    const std::string_view first = text.substr(0, text.find('\n'));
    return first.find_first_of("{[\"") != 0 && first.find_first_of(";,\t") != std::string_view::npos;
}

// Of something right after a value.
Words missing_comma(const std::string& text, std::size_t at) {
    const bool after_text = at > 0 && text[at - 1] == '"';
    return {"a comma is missing before this",
            after_text ? "a text ends at its next quote: inside expressions names are written without quotes" : ""};
}

Words unexpected(const SourceText& source, std::size_t at, const std::string& detail, std::size_t open) {
    const std::string& text = source.text();
    const char c = text[at];
    const char last = before(text, at);
    const bool wants_separator = detail.find("; expected ':'") != std::string::npos;
    const bool after_value =
        detail.find("; expected ']'") != std::string::npos || detail.find("; expected '}'") != std::string::npos;
    if (detail.find("expected end of input") != std::string::npos)
        return {"there is something after the end of the model", "a bracket may have been closed too early"};
    if (c == '/' || c == '#') return {"JSON has no comments", "write a \"note\": every object may have one"};
    if (c == '\'') return {"a text is written in double quotes", "write \" instead of '"};
    if (begins_with_typographic_quote(std::string_view(text).substr(at)))
        return {"this is a typographic quote, not a double quote", "write \", and edit models in a plain text editor"};
    if (at == 0 && looks_like_a_table(text))
        return {"this is no model: a model is a JSON file that begins with {", "a CSV table cannot be read as a model"};
    if (c == ':' && open != std::string::npos && text[open] == '[')
        return {"a list has no keys", "write { and } around keys and their values, instead of [ and ]"};
    if ((c == '}' || c == ']') && last == ',') return {"there is a comma before this bracket", "remove the comma"};
    if (c == ',' && (last == ',' || last == '{' || last == '['))
        return {"something is missing before this comma", "remove the comma"};
    if (wants_separator) return {"a colon is missing before this", "a key and its value are written \"key\": value"};
    if (after_value && (c == '}' || c == ']') && open != std::string::npos) {
        const std::string line = std::to_string(source.place_of(open).line);
        return {std::string("this ") + c + " does not match the " + text[open] + " of line " + line, ""};
    }
    if (after_value && (c == '"' || c == '{' || c == '[' || begins_a_word(c) || (c >= '0' && c <= '9')))
        return missing_comma(text, at);
    if (begins_a_word(c) && detail.find("; expected string literal") != std::string::npos)
        return {"a key is written in double quotes", ""};
    if (begins_a_word(c))
        return {"this word is not a JSON value", "texts, names and expressions are written in double quotes"};
    if (detail.find("invalid number") != std::string::npos || c == '+' || c == '.')
        return {"this is not a number", "numbers look like 12, -3 or 0.5"};
    if (detail.find("number overflow") != std::string::npos)
        return {"this number is too large", "a number with its unit is a text: \"104 degC\""};
    if (detail.find("expected string literal") != std::string::npos)
        return {"a key in double quotes is expected here", ""};
    return {"a value is expected here", ""};
}

}  // namespace

bool check_text(const SourceText& source, const Limits& limits, Diagnostics& out) {
    const std::string& text = source.text();
    const auto report = [&](const char* code, std::size_t at, std::string what, std::string why, std::string hint) {
        out.add({code, Severity::error, "", source.place_of(at), std::move(what), std::move(why), std::move(hint)});
    };
    if (text.size() > limits.bytes) {
        report("file-too-large", 0, "the file is larger than " + std::to_string(limits.bytes >> 20U) + " MB",
               "this is a limit of lanyard, so that a broken file cannot fill the memory", "");
        return false;
    }
    if (const auto bad = first_bad_byte(text)) {
        report("not-utf-8", *bad, "byte " + hex_byte(static_cast<unsigned char>(text[*bad])) + " is not UTF-8",
               "a model file is UTF-8 text",
               looks_like_utf16(text) ? "this file is UTF-16: save it as UTF-8" : "save the file as UTF-8");
        return false;
    }
    if (const auto nul = text.find('\0'); nul != std::string::npos) {
        report("nul-byte", nul, "the file contains a NUL byte", "a model file is UTF-8 text", "save it as text");
        return false;
    }
    const bool marked = text.starts_with("\xEF\xBB\xBF");
    if (skip(text, marked ? 3 : 0) == text.size()) {
        report("empty-file", 0, "the file is empty", "",
               "the smallest model is { \"lanyard\": 1, \"name\": \"my car\" }");
        return false;
    }
    if (marked)
        report("byte-order-mark", 0, "the file begins with a byte order mark", "JSON must not have one (RFC 8259)",
               "save the file as UTF-8 without a byte order mark");
    return true;
}

Diagnostic syntax_error(const SourceText& source, std::size_t from, std::size_t at, const std::string& detail,
                        std::size_t open) {
    const std::string& text = source.text();
    Diagnostic d{"json-syntax", Severity::error, "", {}, "", "", ""};
    const bool in_string = detail.find("invalid string") != std::string::npos;
    std::size_t start = skip(text, from);
    if (start < at && (text[start] == ',' || text[start] == ':')) start = skip(text, start + 1);
    if (start > at || in_string) start = at;
    if (in_string && at >= text.size()) start = skip(text, from, ",:");
    const bool ended = start >= text.size();
    const Words words = in_string ? inside_string(detail)
                        : ended   ? at_end(source, open)
                                  : unexpected(source, start, detail, open);
    if (ended) start = text.find_last_not_of(" \t\r\n");  // never npos: an empty file is refused before
    d.place = source.place_of(start);
    d.what = words.what;
    d.hint = words.hint;
    return d;
}

std::string one_line(const std::string& source, const Value& v) {
    std::string out;
    int depth = 0;
    bool in_text = false;
    for (std::size_t i = v.offset; i < source.size(); ++i) {
        const char c = source[i];
        if (in_text) {
            out += c;
            if (c == '\\' && i + 1 < source.size()) out += source[++i];
            in_text = c != '"';
            continue;
        }
        in_text = c == '"';
        if (c == '{' || c == '[') ++depth;
        if (c == '}' || c == ']') --depth;
        const bool blank = c == ' ' || c == '\t' || c == '\n' || c == '\r';
        if (c == ']' && out.back() == ' ') out.pop_back();
        if (!blank)
            out += c;
        else if (out.back() != ' ' && out.back() != '[')
            out += ' ';
        if (depth == 0) break;
    }
    return out;
}

}  // namespace lanyard::model::json
