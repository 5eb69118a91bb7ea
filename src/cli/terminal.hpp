// What is known of the terminal, and texts that fit into it.
#pragma once

#include <cstddef>
#include <lanyard/lanyard.hpp>
#include <string>
#include <string_view>

namespace lanyard::cli {

// Columns of help texts, and of tables.
constexpr std::size_t narrow_page = 79, wide_page = 80;

enum class Tint { plain, good, bad, unsure, quiet, loud };

class Painter {
 public:
    explicit Painter(bool colours) : colours_(colours) {}
    std::string paint(Tint tint, const std::string& text) const;

 private:
    bool colours_;
};

bool is_terminal(int descriptor);
// auto, always, never -> whether standard output gets colours.
bool wants_colour(const std::string& when);
std::size_t terminal_width(int descriptor);  // 80 where it is unknown

// Columns that a text takes: characters, not bytes.
std::size_t width_of(std::string_view text);
std::string padded(const std::string& text, std::size_t width);
using api::harmless;
// Cuts to so many columns, never inside a character.
std::string cut_to(const std::string& text, std::size_t width);

// Lines of at most `width` columns, each behind `indent` blanks; a longer word stands alone.
std::string wrapped(const std::string& text, std::size_t indent, std::size_t width);
// Two columns: `left` in its own, `right` wrapped beside it, or below it where one of them is too long for that.
std::string two_columns(const std::string& left, std::size_t left_width, const std::string& right, std::size_t width);

}  // namespace lanyard::cli
