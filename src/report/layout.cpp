#include "report/layout.hpp"

#include <algorithm>
#include <cctype>

#include "base/characters.hpp"

namespace lanyard::report {

std::size_t width_of(const std::string& text) { return columns_of(text); }

std::string padded(const std::string& text, std::size_t width) {
    const std::size_t w = width_of(text);
    return w < width ? text + std::string(width - w, ' ') : text;
}

namespace {

// A number stays with its unit, an interval in one piece, a time with its "at", an arrow with what it points from.
bool belongs_together(const std::string& left, const std::string& right) {
    if (left.empty() || right.empty()) return false;
    if (left == "because" || left == ".." || right == "..") return true;
    if ((left == "at" || left == "since" || left == "by") && is_digit(right[0])) return true;
    return is_digit(left.back()) && (right[0] == '%' || std::isalpha(static_cast<unsigned char>(right[0])) != 0);
}

// The end of what begins at `from` and may not be broken.
std::size_t end_of_piece(const std::string& text, std::size_t from) {
    std::size_t end = std::min(text.find(' ', from), text.size());
    for (std::size_t begin = from; end < text.size();) {
        const std::size_t next = std::min(text.find(' ', end + 1), text.size());
        if (!belongs_together(text.substr(begin, end - begin), text.substr(end + 1, next - end - 1))) break;
        begin = end + 1;
        end = next;
    }
    return end;
}

}  // namespace

std::vector<std::string> lines_of(const std::string& text, std::size_t width) {
    std::vector<std::string> lines(1);
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t blank = end_of_piece(text, at);
        const std::string word = text.substr(at, blank - at);
        std::string& line = lines.back();
        if (line.empty())
            line = word;
        else if (width_of(line) + 1 + width_of(word) <= width)
            line += ' ' + word;
        else
            lines.push_back(word);
        at = blank + 1;
    }
    return lines;
}

std::string labelled(const std::string& label, std::size_t label_width, const std::string& text) {
    constexpr std::size_t widest_label = 46, indent_below = 6;
    std::size_t width = std::min(label_width, widest_label);
    std::vector<std::string> lines = lines_of(text, line_width - width);
    const auto too_wide = [&](const std::string& line) { return width_of(line) > line_width - width; };
    std::string out;
    if (width_of(label) > width || std::any_of(lines.begin(), lines.end(), too_wide)) {
        const std::size_t indent = std::min(label.find_first_not_of(' '), label.size());
        if (indent < label.size())
            for (const auto& line : lines_of(label.substr(indent), line_width - indent))
                out += std::string(indent, ' ') + line + '\n';
        width = std::min(width, indent_below);
        lines = lines_of(text, line_width - width);
    }
    for (const auto& line : lines) out += padded(out.empty() ? label : "", width) + line + '\n';
    return out;
}

namespace {

constexpr std::size_t gap = 3;

std::string without_blanks_behind(std::string line) {
    line.erase(line.find_last_not_of(' ') + 1);
    return line + '\n';
}

}  // namespace

std::string table_text(const std::vector<Row>& rows) {
    std::size_t time_width = 0;
    std::size_t left_width = 0;
    for (const auto& r : rows) {
        time_width = std::max(time_width, width_of(r.time));
        left_width = std::max(left_width, width_of(r.left));
    }
    left_width = std::min(left_width, (line_width - time_width - 2 * gap) / 2);
    std::string out;
    for (const auto& r : rows) {
        const std::size_t right_width = line_width - time_width - left_width - 2 * gap;
        auto left = lines_of(r.left, left_width);
        auto right = lines_of(r.right, right_width);
        const auto fits = [](const std::vector<std::string>& lines, std::size_t width) {
            return std::all_of(lines.begin(), lines.end(), [&](const auto& l) { return width_of(l) <= width; });
        };
        std::size_t indent = left_width + gap;
        if (!fits(left, left_width) || !fits(right, right_width)) {  // below one another
            left = lines_of(r.left, line_width - time_width - gap);
            if (r.left.empty()) left.clear();
            right = lines_of(r.right, line_width - time_width - 2 * gap);
            right.insert(right.begin(), left.size(), "");
            indent = gap;
        }
        for (std::size_t k = 0; k < std::max(left.size(), right.size()); ++k) {
            const std::string time = k == 0 ? std::string(time_width - width_of(r.time), ' ') + r.time : "";
            out +=
                without_blanks_behind(padded(time, time_width + gap) + padded(k < left.size() ? left[k] : "", indent) +
                                      (k < right.size() ? right[k] : ""));
        }
    }
    return out;
}

}  // namespace lanyard::report
