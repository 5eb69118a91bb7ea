// Problems of one piece of text: offsets inside it become places in the file.
#pragma once

#include <string>

#include "base/diagnostic.hpp"
#include "lang/compile.hpp"

namespace lanyard::lang {

struct Span {
    std::size_t begin = 0;
    std::size_t end = 0;
};

inline Span join(const Span& a, const Span& b) { return {a.begin, b.end}; }

class TextReport {
 public:
    TextReport(const LocatedText& text, Diagnostics& out) : text_(text), out_(out) {}

    void error(const std::string& code, const Span& span, const std::string& what, const std::string& why = "",
               const std::string& hint = "");
    bool failed() const { return count_ > 0; }
    Place place(const Span& span) const;
    // The piece of text in back quotes, shortened if it is long.
    std::string quote(const Span& span) const;
    std::string plain(const Span& span) const { return text_.text.substr(span.begin, span.end - span.begin); }
    const std::string& text() const { return text_.text; }

 private:
    const LocatedText& text_;
    Diagnostics& out_;
    int count_ = 0;
};

}  // namespace lanyard::lang
