#include <algorithm>

#include "report/layout.hpp"
#include "report/reasons.hpp"

namespace lanyard::report {

namespace {

constexpr std::size_t most_branches = 8;
constexpr std::size_t step = 3;

// A chain breaks before "because"; only what is longer than a line is broken elsewhere.
std::vector<std::string> chain_lines(const std::vector<std::string>& links, std::size_t width) {
    std::vector<std::string> lines(1);
    for (const auto& link : links) {
        if (!lines.back().empty() && width_of(lines.back()) + 1 + width_of(link) > width) lines.emplace_back();
        const std::string text = lines.back() + (lines.back().empty() ? "" : " ") + link;
        lines.pop_back();
        for (const auto& line : lines_of(text, width)) lines.push_back(line);
    }
    return lines;
}

void tell(const Reason& first, std::size_t indent, bool branch, std::size_t width, std::vector<std::string>& lines) {
    std::vector<std::string> links{(branch ? "because " : "") + first.text};
    const Reason* last = &first;
    while (last->because.size() == 1) {
        last = &last->because[0];
        links.push_back("because " + last->text);
    }
    bool begun = false;
    for (const auto& line : chain_lines(links, width - indent - step)) {
        lines.push_back(std::string(indent + (begun ? step : 0), ' ') + line);
        begun = true;
    }
    const std::size_t branches = last->because.size();
    for (std::size_t k = 0; k < std::min(branches, most_branches); ++k)
        tell(last->because[k], indent + step, true, width, lines);
    if (branches > most_branches)
        lines.push_back(std::string(indent + step, ' ') + "and " + std::to_string(branches - most_branches) + " more");
}

}  // namespace

std::string reasons_text(const std::vector<Reason>& reasons, const std::string& label, std::size_t label_width) {
    std::vector<std::string> lines;
    for (const auto& r : reasons) tell(r, 0, false, line_width - label_width, lines);
    std::string out;
    for (const auto& line : lines) out += padded(out.empty() ? label : "", label_width) + line + '\n';
    return out;
}

}  // namespace lanyard::report
