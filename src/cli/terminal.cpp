#include "cli/terminal.hpp"

#include <sys/ioctl.h>
#include <unistd.h>

#include <algorithm>
#include <cstdlib>
#include <sstream>

namespace lanyard::cli {

namespace {

const char* colour_code(Tint tint) {
    switch (tint) {
        case Tint::plain:
            return "";
        case Tint::good:
            return "\x1b[32m";
        case Tint::bad:
            return "\x1b[1;31m";
        case Tint::unsure:
            return "\x1b[33m";
        case Tint::quiet:
            return "\x1b[2m";
        case Tint::loud:
            return "\x1b[1m";
    }
    return "";
}

bool continues_a_character(char c) { return (static_cast<unsigned char>(c) & 0xC0) == 0x80; }

}  // namespace

std::string Painter::paint(Tint tint, const std::string& text) const {
    if (!colours_ || tint == Tint::plain) return text;
    return colour_code(tint) + text + "\x1b[0m";
}

bool is_terminal(int descriptor) { return isatty(descriptor) == 1; }

bool wants_colour(const std::string& when) {
    if (when == "always") return true;
    if (when == "never") return false;
    const char* refused = std::getenv("NO_COLOR");
    if (refused && *refused) return false;
    const char* kind = std::getenv("TERM");
    if (kind && std::string(kind) == "dumb") return false;
    return is_terminal(STDOUT_FILENO);
}

std::size_t terminal_width(int descriptor) {
    winsize size{};
    if (ioctl(descriptor, TIOCGWINSZ, &size) == 0 && size.ws_col > 0) return size.ws_col;
    return 80;
}

std::size_t width_of(std::string_view text) {
    return static_cast<std::size_t>(
        std::count_if(text.begin(), text.end(), [](char c) { return !continues_a_character(c); }));
}

std::string padded(const std::string& text, std::size_t width) {
    const std::size_t has = width_of(text);
    return has >= width ? text : text + std::string(width - has, ' ');
}

std::string cut_to(const std::string& text, std::size_t width) {
    std::size_t columns = 0;
    for (std::size_t i = 0; i < text.size(); ++i)
        if (!continues_a_character(text[i]) && ++columns > width) return text.substr(0, i);
    return text;
}

std::string wrapped(const std::string& text, std::size_t indent, std::size_t width) {
    std::istringstream words(text);
    std::string out, line, word;
    while (words >> word) {
        if (!line.empty() && indent + width_of(line) + 1 + width_of(word) > width) {
            out += std::string(indent, ' ') + line + "\n";
            line.clear();
        }
        line += (line.empty() ? "" : " ") + word;
    }
    if (!line.empty()) out += std::string(indent, ' ') + line + "\n";
    return out;
}

std::string two_columns(const std::string& left, std::size_t left_width, const std::string& right, std::size_t width) {
    constexpr std::size_t widest_left = 46, indent_below = 6;
    const std::size_t column = std::min(left_width, widest_left);
    const std::string body = wrapped(right, column, width);
    if (body.empty()) return left + "\n";
    std::istringstream lines(body);
    bool fits = width_of(left) < column;
    for (std::string line; std::getline(lines, line);) fits = fits && width_of(line) <= width;
    if (!fits) return left + "\n" + wrapped(right, std::min(column, indent_below), width);
    return padded(left, column) + body.substr(column);
}

}  // namespace lanyard::cli
