#include "report/findings.hpp"

#include <algorithm>

#include "base/characters.hpp"
#include "report/layout.hpp"
#include "report/words.hpp"

namespace lanyard::report {

namespace {

std::string place_text(const WiringFinding& f) {
    return std::to_string(f.place.line) + ":" + std::to_string(f.place.column);
}

}  // namespace

std::string findings_text(const std::vector<WiringFinding>& findings) {
    std::size_t width = 0;
    for (const auto& f : findings) width = std::max(width, place_text(f).size() + 2);
    std::string out;
    for (const auto& f : findings) {
        const FindingHelp& help = finding_help(f.kind);
        out += labelled(place_text(f), width,
                        sanitize_for_terminal(finding_level_word(help.level) + ": " + f.what + " [" + help.code + "]"));
        if (!f.why.empty()) out += labelled("", width, sanitize_for_terminal(f.why));
        if (!f.hint.empty()) out += labelled("", width, sanitize_for_terminal("what helps: " + f.hint));
    }
    return out;
}

Json findings_json(const std::vector<WiringFinding>& findings) {
    Json all = Json::array();
    for (const auto& f : findings) {
        const FindingHelp& help = finding_help(f.kind);
        Json one = {{"code", help.code},    {"level", finding_level_word(help.level)},
                    {"line", f.place.line}, {"column", f.place.column},
                    {"pointer", f.pointer}, {"what", f.what}};
        if (!f.why.empty()) one["why"] = f.why;
        if (!f.hint.empty()) one["hint"] = f.hint;
        all.push_back(std::move(one));
    }
    return all;
}

}  // namespace lanyard::report
