#include "page/prose.hpp"

#include <algorithm>
#include <sstream>

#include "page/document.hpp"
#include "page/markup.hpp"

namespace lanyard::page {

namespace {

struct Mark {
    const char* sign;
    const char* element;
};
constexpr Mark marks[] = {{"**", "strong"}, {"*", "em"}, {"`", "code"}};

std::string inside(const std::string& words) {
    std::string out;
    for (std::size_t at = 0; at < words.size();) {
        const Mark* found = nullptr;
        std::size_t end = std::string::npos;
        for (const Mark& m : marks) {
            const std::string sign = m.sign;
            if (found != nullptr || words.compare(at, sign.size(), sign) != 0) continue;
            end = words.find(sign, at + sign.size());
            if (end != std::string::npos) found = &m;
        }
        if (found != nullptr) {
            const std::size_t length = std::string(found->sign).size();
            out += tag(found->element, text(words.substr(at + length, end - at - length)));
            at = end + length;
            continue;
        }
        const std::size_t next = std::min(words.find_first_of("*`", at + 1), words.size());
        out += text(words.substr(at, next - at));
        at = next;
    }
    return out;
}

class Writer {
 public:
    explicit Writer(int deeper) : deeper_(deeper) {}

    void line(const std::string& l) {
        if (l.empty()) return end_block();
        if (l[0] == '#') return heading(l);
        if (l.compare(0, 2, "- ") == 0) {
            end_block();
            is_item_ = true;
            block_ = l.substr(2);
            return;
        }
        block_ += (block_.empty() ? "" : " ") + l.substr(std::min(l.find_first_not_of(' '), l.size()));
    }
    std::string take() {
        end_list();
        return std::move(out_);
    }

 private:
    int deeper_;
    std::string out_, block_, items_;
    bool is_item_ = false;

    void end_block() {
        if (block_.empty()) return;
        if (is_item_) {
            items_ += tag("li", inside(block_)) + "\n";
        } else {
            const std::string content = inside(block_);
            block_.clear();
            end_list();
            out_ += tag("p", content) + "\n";
        }
        block_.clear();
        is_item_ = false;
    }
    void end_list() {
        end_block();
        if (!items_.empty()) out_ += tag("ul", "\n" + items_) + "\n";
        items_.clear();
    }
    void heading(const std::string& l) {
        end_list();
        const std::size_t level = l.find_first_not_of('#');
        const std::string element = "h" + std::to_string(static_cast<int>(level) + deeper_);
        out_ += tag(element, inside(l.substr(level + 1))) + "\n";
    }
};

}  // namespace

std::string prose(const std::string& markdown, int deeper) {
    Writer writer(deeper);
    std::istringstream lines(markdown);
    for (std::string l; std::getline(lines, l);) writer.line(l);
    return writer.take();
}

std::string cautions() {
    // Its own title is that of the section.
    const std::string all = page_text("safety");
    return tag("div class=\"prose\"", "\n" + prose(all.substr(std::min(all.find('\n'), all.size())), 1));
}

}  // namespace lanyard::page
