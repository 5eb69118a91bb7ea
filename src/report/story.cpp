#include "report/story.hpp"

#include <algorithm>

#include "base/characters.hpp"
#include "report/broken.hpp"
#include "report/claim_words.hpp"
#include "report/layout.hpp"
#include "report/telling.hpp"
#include "report/terminal.hpp"
#include "report/words.hpp"

namespace lanyard::report {

namespace {

constexpr std::size_t label_width = 14;

std::string lines(const Passage& p) {
    if (!p.moments.empty()) return '\n' + moments_table(p.moments) + '\n';
    if (!p.why.empty()) return reasons_text(p.why, p.label, label_width);
    std::string out;
    for (const auto& s : p.sentences) out += labelled(out.empty() ? p.label : "", label_width, s);
    return out;
}

std::string indented(const std::string& text) {
    std::string out;
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t end = std::min(text.find('\n', at), text.size());
        if (end > at) out += "  " + text.substr(at, end - at);
        out += '\n';
        at = end + 1;
    }
    return out;
}

}  // namespace

std::string story_heading(const Model& m, const ClaimResult& r) {
    const Claim& c = m.claims[r.claim];
    return sanitize_for_terminal(c.id) + ": " + verdict_word(r.verdict) + ", " + file_name(m) + ":" +
           std::to_string(c.place.line) + ":" + std::to_string(c.place.column);
}

std::string story(const FilmedResult& r, const StoryParts& parts) {
    std::string out;
    for (const auto& passage : telling(r, parts)) out += lines(passage);
    return out;
}

std::string moments_text(const Film& film) { return film.frames().empty() ? "" : moments_table(moments(film)); }

std::string safety_line() { return "What these verdicts promise and what they do not: SAFETY.md"; }

std::string whole_report(const Model& m, const FilmedResults& results, const Versions& versions) {
    std::string out = heading_on_page(m, versions) + "\n\n";
    for (const auto& r : results) out += terminal_line(r, false) + '\n';
    for (const bool good : {false, true})
        for (const auto& r : results)
            if (std::holds_alternative<Proved>(r.verdict) == good)
                out += '\n' + story_heading(m, r) + '\n' + indented(story(r));
    const bool times = std::any_of(results.begin(), results.end(),
                                   [&](const auto& r) { return needs_time_note(m.claims[r.claim], r.verdict); });
    if (times) out += '\n' + labelled("", 0, time_note());
    return out + '\n' + safety_line() + '\n';
}

}  // namespace lanyard::report
