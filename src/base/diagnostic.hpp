// Everything that lanyard has to say about a file is a value of this type. Text is made of it in one place
// (render), so that tests compare it whole and reports can use it.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "base/layers.hpp"

namespace lanyard::base {

// Where something stands in a file. Lines and columns count from 1, columns in bytes; 0 means "no place".
struct Place {
    std::size_t line = 0;
    std::size_t column = 0;
    std::size_t length = 1;

    friend bool operator==(const Place&, const Place&) = default;
};

enum class Severity { error, warning };

struct Diagnostic {
    std::string code;  // stable, e.g. "unknown-name"; every code has an entry in `lanyard help diagnostics`
    Severity severity = Severity::error;
    std::string pointer;  // JSON pointer of the value, e.g. "/logic/hot"
    Place place;
    std::string what;  // one sentence: what is wrong
    std::string why;   // why it matters; may be empty
    std::string hint;  // what to do about it; may be empty
};

// The text of a file together with its name as the user gave it.
class SourceText {
 public:
    SourceText() = default;
    SourceText(std::string name, std::string text);

    const std::string& name() const { return name_; }
    const std::string& text() const { return text_; }
    Place place_of(std::size_t offset, std::size_t length = 1) const;
    std::string line(std::size_t number) const;  // without its line end; empty where there is none

 private:
    std::string name_;
    std::string text_;
    std::vector<std::size_t> line_starts_;
};

// A list that keeps its order of finding until it is sorted by place.
class Diagnostics {
 public:
    void add(Diagnostic d) { list_.push_back(std::move(d)); }
    bool has_errors() const;
    void sort_by_place();
    const std::vector<Diagnostic>& list() const { return list_; }

 private:
    std::vector<Diagnostic> list_;
};

// file:line:column: error: what [code]\n  the line\n  a caret\n  why\n  hint
std::string render(const Diagnostic& d, const SourceText& source);
std::string render(const Diagnostics& all, const SourceText& source);

}  // namespace lanyard::base
