#include "report/terminal.hpp"

#include <algorithm>

#include "base/characters.hpp"
#include "report/broken.hpp"
#include "report/claim_words.hpp"
#include "report/layout.hpp"
#include "report/words.hpp"

namespace lanyard::report {

namespace {

constexpr std::size_t named = 4;
constexpr std::size_t verdict_width = 9;
constexpr std::size_t widest_id = 40;
constexpr std::size_t widest_condition = 28;

std::string summary_of(const Certificate& c) {
    std::vector<std::string> all = rests_on(c);
    if (all.empty()) return "true whatever the logic does: the claim says nothing about this car";
    const std::size_t left_out = all.size() > named ? all.size() - named : 0;
    all.resize(all.size() - left_out);
    return "rests on: " + joined(all, ", ") + (left_out > 0 ? " and " + std::to_string(left_out) + " more" : "");
}

std::string summary_of(const FilmedResult& r, const Proved& p) {
    if (p.certificate) return summary_of(*p.certificate);
    const long last = std::max(0L, p.example.scans() - 1);
    const auto* possible = std::get_if<Possible>(&r.model.claims[r.claim].body);
    return (possible != nullptr ? "reached at " : "shown at ") + scan_time(r.model, last);
}

std::string summary_of(const FilmedResult& r, const Refuted& v) {
    return v.remark.empty() ? broken_summary(r.film()) : sanitize_for_terminal(v.remark);
}

// The first sentence; the story has them all.
std::string summary_of(const FilmedResult&, const Vacuous& v) {
    const std::string all = sanitize_for_terminal(v.reason);
    return all.substr(0, all.find(". "));
}

std::string summary_of(const FilmedResult& r, const Undecided& u) {
    return sanitize_for_terminal(u.reason) + (u.depth > 0 ? "; " + searched_words(r, u) : "");
}

// "under healthy"; a long condition is cut, as the story has it in full.
std::string under(const Model& m, const Claim& c) {
    const std::string words = "under " + sanitize_for_terminal(condition_text(m, c));
    if (width_of(words) <= widest_condition) return words;
    return std::string(first_bytes(words, widest_condition - 3)) + "...";
}

std::string painted(const Verdict& v, const std::string& text) {
    const char* code = std::holds_alternative<Proved>(v) ? "32" : std::holds_alternative<Undecided>(v) ? "33" : "31";
    return "\x1b[" + std::string(code) + "m" + text + "\x1b[0m";
}

}  // namespace

std::string verdict_name(const Verdict& v) {
    if (std::holds_alternative<Proved>(v)) return "proved";
    if (std::holds_alternative<Refuted>(v)) return "refuted";
    if (std::holds_alternative<Vacuous>(v)) return "vacuous";
    return "undecided";
}

std::string verdict_word(const Verdict& v) {
    if (std::holds_alternative<Refuted>(v)) return "REFUTED";
    if (std::holds_alternative<Vacuous>(v)) return "VACUOUS";
    return verdict_name(v);
}

std::string searched_words(const FilmedResult& r, const Undecided& u) {
    const bool possible = std::holds_alternative<Possible>(r.model.claims[r.claim].body);
    const char* const what = u.unbroken ? "not exercised" : possible ? "not reached" : "no counterexample";
    return what + (" within " + counted(u.depth, "leap"));
}

std::string summary(const FilmedResult& r) {
    return std::visit([&](const auto& verdict) { return summary_of(r, verdict); }, r.verdict);
}

std::string terminal_line(const FilmedResult& r, bool colour) {
    const Model& m = r.model;
    std::size_t id_width = 0;
    std::size_t condition_width = 0;
    for (const auto& c : m.claims) {
        id_width = std::max(id_width, std::min(width_of(c.id), widest_id));
        condition_width = std::max(condition_width, width_of(under(m, c)));
    }
    const Claim& c = m.claims[r.claim];
    const std::string word = padded(verdict_word(r.verdict), verdict_width);
    return "  " + (colour ? painted(r.verdict, word) : word) + "  " + padded(sanitize_for_terminal(c.id), id_width) +
           "  " + padded(under(m, c), condition_width) + "  " + summary(r);
}

}  // namespace lanyard::report
