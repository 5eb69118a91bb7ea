#include <algorithm>

#include "report/layout.hpp"
#include "report/reasons.hpp"

namespace lanyard::report {

namespace {

constexpr std::size_t most_branches = 8;
constexpr std::size_t widest_label = 12;
constexpr std::size_t step = 3;

void tell(const Reason& first, std::size_t indent, bool branch, std::vector<std::string>& lines) {
    std::string text = (branch ? std::string("<- ") : "") + first.text;
    const Reason* last = &first;
    while (last->because.size() == 1) {
        last = &last->because[0];
        text += " <- " + last->text;
    }
    bool begun = false;
    for (const auto& line : lines_of(text, line_width - widest_label - indent - step)) {
        lines.push_back(std::string(indent + (begun ? step : 0), ' ') + line);
        begun = true;
    }
    const std::size_t branches = last->because.size();
    for (std::size_t k = 0; k < std::min(branches, most_branches); ++k)
        tell(last->because[k], indent + step, true, lines);
    if (branches > most_branches)
        lines.push_back(std::string(indent + step, ' ') + "<- and " + std::to_string(branches - most_branches) +
                        " more");
}

}  // namespace

std::string reasons_text(const std::vector<Reason>& reasons, const std::string& label, std::size_t label_width) {
    std::vector<std::string> lines;
    for (const auto& r : reasons) tell(r, 0, false, lines);
    std::string out;
    for (const auto& line : lines) out += padded(out.empty() ? label : "", label_width) + line + '\n';
    return out;
}

}  // namespace lanyard::report
