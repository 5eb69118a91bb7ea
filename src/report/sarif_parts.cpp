#include "report/sarif_parts.hpp"

#include <algorithm>

#include "base/characters.hpp"
#include "model/packs.hpp"
#include "report/claim_words.hpp"
#include "report/layout.hpp"
#include "report/words.hpp"

namespace lanyard::report {

namespace {

// Braces stand for placeholders unless they are doubled (3.11.5), `[a](b)` for a link unless its brackets are escaped
// (3.11.6): what a model calls its things is neither.
std::string plain_text(const std::string& text) {
    const bool link = text.find("](") != std::string::npos;
    std::string out;
    for (const char c : text) {
        if (c == '{' || c == '}') out += c;
        if (link && (c == '[' || c == ']' || c == '\\')) out += '\\';
        out += c;
    }
    return out;
}

// Place counts bytes; the file says that it counts characters (columnKind, 3.14.17).
std::size_t character_column(const std::string& line, std::size_t byte_column) {
    return width_of(line.substr(0, std::min(byte_column - 1, line.size()))) + 1;
}

Json descriptor(const std::string& shortly, const std::string& fully, const std::string& help, const char* level) {
    Json out = {{"shortDescription", sarif_message(shortly)}};
    if (!fully.empty()) out["fullDescription"] = sarif_message(fully);
    if (!help.empty()) out["help"] = sarif_message(help);
    out["defaultConfiguration"] = {{"level", level}};
    return out;
}

}  // namespace

Json sarif_message(const std::string& text) { return {{"text", plain_text(text)}}; }

std::string sarif_uri(const std::string& path) {
    static constexpr const char* digits = "0123456789ABCDEF";
    std::string out;
    for (const char c : path) {
        const auto byte = static_cast<unsigned char>(c);
        const bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '/' ||
                           c == '-' || c == '.' || c == '_' || c == '~';
        if (plain)
            out += c;
        else
            out += {'%', digits[byte >> 4U], digits[byte & 15U]};
    }
    return out;
}

Json SarifPlaces::artifact() const { return {{"uri", uri_}, {"uriBaseId", "%SRCROOT%"}, {"index", 0}}; }

Json SarifPlaces::region(const Place& place) const {
    const std::string line = source_.line(place.line);
    return {{"startLine", place.line},
            {"startColumn", character_column(line, place.column)},
            {"endColumn", character_column(line, place.column + place.length)}};
}

Json SarifPlaces::location(const Place& place, const std::string& message) const {
    Json out = Json::object();
    if (place.line > 0 && place.column > 0)
        out["physicalLocation"] = {{"artifactLocation", artifact()}, {"region", region(place)}};
    if (!message.empty()) out["message"] = sarif_message(message);
    return out;
}

std::size_t SarifRules::add(const std::string& id, Json d) {
    const auto [at, is_new] = known_.emplace(id, ids_.size());
    if (!is_new) return at->second;
    Json named = {{"id", id}};
    named.update(d);
    all_.push_back(std::move(named));
    ids_.push_back(id);
    return at->second;
}

std::size_t SarifRules::of_claim(const Claim& c) {
    if (const PackRule* rule = c.rule.empty() ? nullptr : find_rule(model_.packs, c.rule))
        return add(rule->id, descriptor(sanitize_for_terminal(rule->requirement),
                                        sanitize_for_terminal(rule->citation + "; " + text_read_words(rule->text_read)),
                                        sanitize_for_terminal(rule->advice), "error"));
    return add("claim/" + c.id,
               descriptor(joined(claim_sentences(model_, c), "; "), "under " + condition_in_full(model_, c.condition),
                          sanitize_for_terminal(c.note), "error"));
}

std::size_t SarifRules::of_finding(FindingKind kind) {
    const FindingHelp& help = finding_help(kind);
    return add(help.code, descriptor(help.meaning, help.source.empty() ? "common practice" : help.source, "",
                                     help.level == FindingLevel::warning ? "warning" : "note"));
}

}  // namespace lanyard::report
