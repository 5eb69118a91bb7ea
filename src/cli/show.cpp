#include "cli/show.hpp"

#include <algorithm>
#include <cstdio>
#include <sstream>

namespace lanyard::cli {

namespace {

constexpr std::size_t verdict_width = 9;
constexpr std::size_t widest_id = 26;
constexpr std::size_t widest_condition = 18;
constexpr std::size_t least_summary = 36;  // columns; where it has fewer it begins a line of its own
constexpr std::size_t label_width = 12;

bool is_bad(const api::Verdict& v) {
    return std::holds_alternative<api::Refuted>(v) || std::holds_alternative<api::Vacuous>(v);
}

Tint tint_of(const api::Verdict& v) {
    return is_bad(v) ? Tint::bad : std::holds_alternative<api::Proved>(v) ? Tint::good : Tint::unsure;
}

std::string time_text(double seconds) {
    char text[32];
    std::snprintf(text, sizeof text, "%.2f s", seconds);
    return text;
}

std::string labelled(const std::string& label, const std::string& text) {
    return two_columns("  " + label, label_width + 2, harmless(text), wide_page);
}

}  // namespace

std::string indented(const std::string& text, const std::string& indent) {
    std::istringstream lines(text);
    std::string out, line;
    while (std::getline(lines, line)) out += (line.empty() ? "" : indent + harmless(line)) + "\n";
    return out;
}

std::string shown_verdict(const api::Verdict& verdict) {
    std::string word = api::verdict_word(verdict);
    if (!is_bad(verdict)) return word;
    for (char& c : word)
        if (c >= 'a' && c <= 'z') c = static_cast<char>(c - 'a' + 'A');
    return word;
}

CheckText::CheckText(std::string model_file, const std::vector<api::ClaimInfo>& claims, Painter painter, bool times,
                     std::optional<std::filesystem::path> evidence)
    : model_file_(std::move(model_file)), painter_(painter), times_(times), evidence_(std::move(evidence)) {
    for (const api::ClaimInfo& claim : claims) {
        id_width_ = std::max(id_width_, std::min(width_of(claim.id), widest_id));
        condition_width_ = std::max(condition_width_, std::min(width_of(claim.condition) + 6, widest_condition));
    }
}

std::string CheckText::line(const api::ClaimReport& claim) const {
    std::string text =
        "  " + painter_.paint(tint_of(claim.verdict), padded(shown_verdict(claim.verdict), verdict_width));
    text += "  ";
    const std::size_t indent = verdict_width + 4;
    const std::string id = harmless(claim.id), under = "under " + harmless(claim.condition);
    const std::string summary = harmless(claim.summary);
    // Behind the summary, or below it where it has no room there.
    const auto timed = [&](std::string block, std::size_t at) {
        if (!times_) return block;
        const std::string time = time_text(claim.timing.total());
        block.pop_back();
        const std::string last = block.substr(block.rfind('\n') + 1);
        const bool fits = width_of(last) + 2 + time.size() <= wide_page;
        return block + (fits ? "  " : "\n" + std::string(at, ' ')) + time + "\n";
    };
    const std::size_t second = indent + id_width_ + 2, third = second + condition_width_ + 2;
    const bool in_columns = width_of(id) <= id_width_ && width_of(under) <= condition_width_;
    if (!in_columns || third + least_summary > wide_page)
        return text + wrapped(id + ", " + under, indent, wide_page).substr(indent) +
               timed(wrapped(summary, indent + 2, wide_page), indent + 2);
    text += padded(id, id_width_) + "  " + padded(under, condition_width_) + "  ";
    return text + timed(wrapped(summary, third, wide_page), third).substr(third);
}

std::string CheckText::heading(const api::ClaimReport& claim) const {
    std::string text = painter_.paint(Tint::loud, harmless(claim.id)) + ": ";
    text += painter_.paint(tint_of(claim.verdict), shown_verdict(claim.verdict));
    text += ", " + harmless(model_file_) + ":" + std::to_string(claim.line) + ":" + std::to_string(claim.column);
    return text + "\n";
}

std::string CheckText::details(const api::ClaimReport& claim) const {
    std::string text = indented(claim.story, "  ");
    if (evidence_) text += labelled("evidence", (*evidence_ / claim.folder).string());
    if (times_) {
        const api::Timing& t = claim.timing;
        text += painter_.paint(
            Tint::quiet,
            labelled("time", "finding " + time_text(t.finding) + ", minimising " + time_text(t.minimising) +
                                 ", re-checking " + time_text(t.rechecking) + ", replaying " + time_text(t.replaying)));
    }
    return text.empty() ? text : heading(claim) + text;
}

std::string CheckText::rules(const std::string& text) {
    return text.empty() ? "" : "\nRules of packs\n" + indented(text, "  ");
}

std::string CheckText::findings(const std::string& text) {
    return text.empty() ? "" : "\nFound in the wiring\n" + indented(text, "  ");
}

std::string CheckText::summary(const api::Results& results) const {
    std::string text;
    const api::Verdict all_verdicts[] = {api::Proved{}, api::Refuted{}, api::Vacuous{}, api::Undecided{}};
    for (const api::Verdict& verdict : all_verdicts) {
        const auto count = std::count_if(results.claims.begin(), results.claims.end(), [&](const api::ClaimReport& c) {
            return c.verdict.index() == verdict.index();
        });
        if (count > 0) text += (text.empty() ? "" : ", ") + std::to_string(count) + " " + api::verdict_word(verdict);
    }
    const std::size_t all = results.claims.size();
    text = std::to_string(all) + (all == 1 ? " claim: " : " claims: ") + (text.empty() ? "nothing judged" : text);
    if (results.interrupted) text += " (interrupted: undecided claims were not judged to the end)";
    return text + "\n";
}

std::string CheckText::after_lines(const api::Results& results, const std::string& beside) const {
    std::string text;
    // What needs attention comes first; among equals the order is the file's.
    for (const bool good : {false, true})
        for (const api::ClaimReport& claim : results.claims) {
            if (std::holds_alternative<api::Proved>(claim.verdict) != good) continue;
            const std::string block = details(claim);
            if (!block.empty()) text += "\n" + block;
        }
    return text + beside + "\n" + summary(results) + harmless(api::closing()) + "\n";
}

}  // namespace lanyard::cli
