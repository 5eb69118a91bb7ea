#include "lang/text_report.hpp"

#include <algorithm>

#include "base/characters.hpp"

namespace lanyard::lang {

namespace {

// Whoever has this many problems in one line wants to repair some before reading on.
constexpr int most_errors = 20;
constexpr std::size_t longest_quote = 40;

}  // namespace

void TextReport::error(const std::string& code, const Span& span, const std::string& what, const std::string& why,
                       const std::string& hint) {
    if (++count_ > most_errors) return;
    out_.add({code, Severity::error, text_.pointer, place(span), what, why, hint});
}

Place TextReport::place(const Span& span) const {
    if (text_.escaped || text_.place.line == 0) return text_.place;
    return {text_.place.line, text_.place.column + span.begin, std::max<std::size_t>(span.end - span.begin, 1)};
}

std::string TextReport::quote(const Span& span) const {
    std::string piece = plain(span);
    if (piece.size() > longest_quote) piece = std::string(first_bytes(piece, longest_quote - 4)) + " ...";
    return "`" + piece + "`";
}

}  // namespace lanyard::lang
