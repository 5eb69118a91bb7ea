// JSON text -> a tree that remembers where everything stands. Numbers stay text (no floating point), members stay in
// the order of the file, and what a text editor or a careless merge does to a file is said in plain words.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostic.hpp"

namespace lanyard::model::json {

enum class Kind { null, flag, number, string, array, object };

struct Member;

struct Value {
    Kind kind = Kind::null;
    bool flag = false;
    bool escaped = false;  // string with backslashes: places inside it are not exact
    std::size_t offset = 0;
    std::size_t length = 0;  // of the token; 1 for objects and arrays (their opening bracket)
    std::string text;        // content of a string, digits of a number as written
    std::vector<Value> items;
    std::vector<Member> members;

    const Member* find(std::string_view key) const;
};

struct Member {
    std::string key;
    std::size_t key_offset = 0;
    std::size_t key_length = 0;
    bool duplicate = false;  // reported already; whoever reads the tree leaves it out
    Value value;
};

// The documented limits of a model file.
struct Limits {
    std::size_t bytes = 64U << 20U;
    std::size_t depth = 64;
    std::size_t values = 2'000'000;
};

// "an object", "a text", "a number": how a kind is called in messages.
std::string kind_words(Kind kind);

// The whole text as one value; nothing when it is no JSON. Duplicate keys are reported and do not stop the reading.
std::optional<Value> parse(const SourceText& source, const Limits& limits, Diagnostics& out);

// What must be right before there can be JSON: size, UTF-8, no NUL, no byte order mark, not empty. False = stop here.
bool check_text(const SourceText& source, const Limits& limits, Diagnostics& out);

// Our words for a syntax error. `from` = where the last good token ended, `at` = where the parser stopped,
// `detail` = what it said, `open` = offset of the innermost bracket still open (npos: none).
Diagnostic syntax_error(const SourceText& source, std::size_t from, std::size_t at, const std::string& detail,
                        std::size_t open);

// An object or array as it was written, on one line.
std::string one_line(const std::string& source, const Value& v);

// The offset of the next thing that is neither white space nor one of `also`.
std::size_t skip(std::string_view text, std::size_t from, std::string_view also = "");

}  // namespace lanyard::model::json
