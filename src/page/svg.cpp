#include "page/svg.hpp"

#include "base/characters.hpp"
#include "page/markup.hpp"
#include "report/layout.hpp"
#include "report/words.hpp"

namespace lanyard::page {

namespace {

constexpr int letter_width = 7;  // of the small sans-serif text of drawings, with something to spare

std::string number(const char* key, int x) { return std::string(" ") + key + "=\"" + std::to_string(x) + "\""; }

std::string shaped(const std::string& element, const std::string& shape) {
    return element + " class=\"" + shape + "\"";
}

std::size_t letters_in(int width) { return static_cast<std::size_t>(width > letter_width ? width / letter_width : 1); }

}  // namespace

std::string first_letters(const std::string& words, std::size_t count) {
    std::size_t at = 0;
    for (; at < words.size(); ++at) {
        if (!continues_character(words[at]) && count-- == 0) break;
    }
    return words.substr(0, at);
}

std::string svg(const std::string& id, const std::string& shape, int width, int height, const std::string& title,
                const std::string& content) {
    return tag(shaped("svg", shape) + number("width", width) + number("height", height) + " viewBox=\"0 0 " +
                   std::to_string(width) + " " + std::to_string(height) + "\" role=\"img\" aria-labelledby=\"" + id +
                   "\"",
               tag("title id=\"" + id + "\"", text(title)) + "\n" + content) +
           "\n";
}

std::string line(const std::string& shape, int x1, int y1, int x2, int y2) {
    return lone(shaped("line", shape) + number("x1", x1) + number("y1", y1) + number("x2", x2) + number("y2", y2));
}

std::string box(const std::string& shape, int x, int y, int width, int height, int round) {
    return lone(shaped("rect", shape) + number("x", x) + number("y", y) + number("width", width) +
                number("height", height) + (round > 0 ? number("rx", round) : ""));
}

std::string path(const std::string& shape, const std::string& way) {
    return lone(shaped("path", shape) + " d=\"" + way + "\"");
}

std::string label(const std::string& shape, int x, int y, const std::string& words, const std::string& more) {
    return tag(shaped("text", shape) + number("x", x) + number("y", y) + more, text(words));
}

std::string point(int x, int y) { return std::to_string(x) + " " + std::to_string(y); }

std::string fitted_label(const std::string& shape, int x, int y, const std::string& words, int width) {
    const std::string line = sanitize_for_terminal(words);
    if (report::width_of(line) <= letters_in(width)) return label(shape, x, y, line);
    const std::string cut = first_letters(line, letters_in(width) - 1) + "\xE2\x80\xA6";  // an ellipsis
    return tag(shaped("text", shape) + number("x", x) + number("y", y), tag("title", text(line)) + text(cut));
}

std::vector<std::string> wrapped(const std::string& words, int width) {
    const std::size_t most = letters_in(width - width / 8);  // digits of a hash are wide
    std::vector<std::string> out;
    for (std::string line : report::lines_of(sanitize_for_terminal(words), most)) {
        while (report::width_of(line) > most) {
            const std::string part = first_letters(line, most);
            out.push_back(part);
            line.erase(0, part.size());
        }
        out.push_back(line);
    }
    return out;
}

std::string changing(const std::string& shape, const std::string& states, const std::string& content) {
    const bool same = states.find_first_not_of(states.front()) == std::string::npos;
    return tag("g class=\"" + shape + " s" + states.back() + "\"" + (same ? "" : " data-s=\"" + states + "\""),
               content);
}

}  // namespace lanyard::page
