#include "page/markup.hpp"

#include "base/characters.hpp"
#include "base/xml_text.hpp"
#include "report/words.hpp"

namespace lanyard::page {

std::string text(const std::string& words) { return xml_text(sanitize_for_terminal(words)); }

std::string name(const std::string& words) { return tag("bdi", text(words)); }

std::string tag(const std::string& open, const std::string& content) {
    return "<" + open + ">" + content + "</" + open.substr(0, open.find(' ')) + ">";
}

std::string lone(const std::string& open) { return "<" + open + "/>"; }

std::string attribute(const std::string& key, const std::string& value) {
    return " " + key + "=\"" + text(value) + "\"";
}

std::string table(const MarkupTable& t) {
    if (t.rows.empty()) return "";
    std::string head;
    for (const auto& h : t.head) head += tag("th scope=\"col\"", text(h));
    std::string body;
    for (const auto& row : t.rows) {
        std::string cells;
        for (std::size_t k = 0; k < row.size(); ++k)
            cells += tag((k == 0 ? "th scope=\"row\"" : "td") + attribute("data-head", t.head[k]), row[k]);
        body += tag("tr", cells) + "\n";
    }
    return tag("div class=\"wide\" tabindex=\"0\" role=\"region\"" + attribute("aria-label", t.caption),
               tag("table class=\"" + t.shape + "\"",
                   tag("caption", text(t.caption)) + tag("thead", tag("tr", head)) + tag("tbody", "\n" + body))) +
           "\n";
}

std::string section(const std::string& id, const std::string& title, const std::string& content) {
    return content.empty() ? ""
                           : tag("section id=\"" + id + "\" aria-labelledby=\"" + id + "-title\"",
                                 tag("h2 id=\"" + id + "-title\"", text(title)) + "\n" + content) +
                                 "\n";
}

}  // namespace lanyard::page
