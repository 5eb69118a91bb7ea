#include "base/diagnostic.hpp"

#include <algorithm>
#include <string_view>
#include <tuple>

#include "base/characters.hpp"

namespace lanyard::base {

namespace {

// A file may be one line of a million characters: what is shown of it is the neighbourhood of the place.
constexpr std::size_t shown_before = 80;
constexpr std::size_t shown_width = 120;

std::size_t columns_shown(std::string_view text) { return columns_of(sanitize_for_terminal(text)); }

// The line and, below it, a caret under the first character and tildes under the rest.
std::string excerpt(const Place& place, const SourceText& source) {
    const std::string line = source.line(place.line);
    if (line.empty() || place.column == 0 || place.column > line.size() + 1) return {};
    const std::size_t at = place.column - 1;
    std::size_t begin = std::min(line.find_first_not_of(" \t"), at);
    const bool cut_left = at - begin > shown_before;
    if (cut_left) {
        begin = at - shown_before;
        while (begin < at && continues_character(line[begin])) ++begin;
    }
    std::size_t end = line.size();
    const bool cut_right = end - begin > shown_width;
    if (cut_right) {
        end = begin + shown_width;
        while (end > at + 1 && continues_character(line[end])) --end;
    }
    const std::string left = cut_left ? "... " : "";
    const std::string_view shown = std::string_view{line}.substr(begin, end - begin);
    const std::size_t marked = std::min(std::max<std::size_t>(place.length, 1), end > at ? end - at : 1);
    const std::size_t indent = left.size() + columns_shown(shown.substr(0, at - begin));
    std::size_t width = at < end ? columns_shown(std::string_view{line}.substr(at, marked)) : 1;
    width = std::max<std::size_t>(width, 1);
    return "  " + left + sanitize_for_terminal(shown) + (cut_right ? " ..." : "") + "\n  " + std::string(indent, ' ') +
           "^" + std::string(width - 1, '~') + "\n";
}

}  // namespace

SourceText::SourceText(std::string name, std::string text) : name_(std::move(name)), text_(std::move(text)) {
    line_starts_.push_back(0);
    for (std::size_t i = 0; i < text_.size(); ++i)
        if (text_[i] == '\n') line_starts_.push_back(i + 1);
}

Place SourceText::place_of(std::size_t offset, std::size_t length) const {
    if (line_starts_.empty()) return {1, 1, length};
    offset = std::min(offset, text_.size());
    const auto after = std::upper_bound(line_starts_.begin(), line_starts_.end(), offset);
    const auto line = static_cast<std::size_t>(after - line_starts_.begin());
    return {line, offset - line_starts_[line - 1] + 1, length};
}

std::string SourceText::line(std::size_t number) const {
    if (number == 0 || number > line_starts_.size()) return {};
    const std::size_t begin = line_starts_[number - 1];
    std::size_t end = number < line_starts_.size() ? line_starts_[number] - 1 : text_.size();
    if (end > begin && text_[end - 1] == '\r') --end;
    return text_.substr(begin, end - begin);
}

bool Diagnostics::has_errors() const {
    return std::any_of(list_.begin(), list_.end(), [](const Diagnostic& d) { return d.severity == Severity::error; });
}

void Diagnostics::sort_by_place() {
    std::stable_sort(list_.begin(), list_.end(), [](const Diagnostic& a, const Diagnostic& b) {
        return std::tie(a.place.line, a.place.column) < std::tie(b.place.line, b.place.column);
    });
}

std::string render(const Diagnostic& d, const SourceText& source) {
    std::string out = sanitize_for_terminal(source.name());
    if (d.place.line != 0) out += ":" + std::to_string(d.place.line) + ":" + std::to_string(d.place.column);
    out += d.severity == Severity::error ? ": error: " : ": warning: ";
    out += sanitize_for_terminal(d.what) + " [" + d.code + "]\n";
    out += excerpt(d.place, source);
    if (!d.why.empty()) out += "  " + sanitize_for_terminal(d.why) + "\n";
    if (!d.hint.empty()) out += "  hint: " + sanitize_for_terminal(d.hint) + "\n";
    return out;
}

std::string render(const Diagnostics& all, const SourceText& source) {
    std::string out;
    for (const Diagnostic& d : all.list()) {
        if (!out.empty()) out += "\n";
        out += render(d, source);
    }
    return out;
}

}  // namespace lanyard::base
