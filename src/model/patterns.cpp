#include "model/patterns.hpp"

#include <algorithm>
#include <array>
#include <string_view>

namespace lanyard::model {

namespace {

// Every claim may name its condition.
const std::string under_field = "{under}";

TemplatePiece hole(const std::string& inside) {
    constexpr std::array<std::string_view, 3> joints = {" OR ...", " AND ...", ", ..."};
    for (const auto joint : joints) {
        if (!inside.ends_with(joint)) continue;
        const std::string between(joint.substr(0, joint.size() - 3));
        return {inside.substr(0, inside.size() - joint.size()), true, between};
    }
    return {inside, true, ""};
}

}  // namespace

const std::vector<Pattern>& pattern_table() {
    static const std::vector<Pattern> table = [] {
        auto all = format::trade_patterns();
        for (auto& p : format::temporal_patterns()) all.push_back(std::move(p));
        return all;
    }();
    return table;
}

const Pattern* find_pattern(const std::string& object_id) {
    for (const auto& p : pattern_table())
        if (p.object.id == object_id) return &p;
    return nullptr;
}

std::vector<TemplatePiece> template_pieces(const std::string& text) {
    std::vector<TemplatePiece> pieces;
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t open = std::min(text.find('{', at), text.size());
        if (open > at) pieces.push_back({text.substr(at, open - at), false, ""});
        if (open == text.size()) break;
        const std::size_t close = text.find('}', open);
        pieces.push_back(hole(text.substr(open + 1, close - open - 1)));
        at = close + 1;
    }
    return pieces;
}

std::string only_hole(const std::string& text) {
    const auto pieces = template_pieces(text);
    return pieces.size() == 1 && pieces[0].hole && pieces[0].joint.empty() ? pieces[0].text : "";
}

const std::string* template_of(const Expansion& e, const std::string& key) {
    for (const auto& [name, text] : e.fields)
        if (name == key) return &text;
    return key == "under" ? &under_field : nullptr;
}

bool reads(const Expansion& e, const std::string& key) {
    const auto in = [&](const std::string& text) {
        const auto pieces = template_pieces(text);
        return std::any_of(pieces.begin(), pieces.end(),
                           [&](const TemplatePiece& p) { return p.hole && p.text == key; });
    };
    if (key == "note" || in(under_field)) return true;
    return std::any_of(e.fields.begin(), e.fields.end(), [&](const auto& f) { return in(f.second); });
}

bool needs(const Pattern& p, const Expansion& e, const std::string& key) {
    const auto named = [&](const KeyHelp& k) { return k.key == key; };
    const KeyHelp& help = *std::find_if(p.object.keys.begin(), p.object.keys.end(), named);
    if (help.required || std::find(e.with.begin(), e.with.end(), key) != e.with.end()) return true;
    if (!help.default_text.empty()) return false;
    const auto& of_kind = object_help(e.kind).keys;
    for (const auto& [field, text] : e.fields) {
        const std::string only = only_hole(text);
        const bool may_lack = std::any_of(of_kind.begin(), of_kind.end(),
                                          [&, name = field](const KeyHelp& k) { return k.key == name && !k.required; });
        if (only == key && may_lack) continue;
        for (const auto& piece : template_pieces(text))
            if (piece.hole && piece.text == key) return true;
    }
    return false;
}

std::string example_claim(const Pattern& p, const Expansion& e) {
    std::string text;
    for (const auto& k : p.object.keys)
        if (needs(p, e, k.key)) text += (text.empty() ? "{ \"" : ", \"") + k.key + "\": " + k.example;
    return text + " }";
}

}  // namespace lanyard::model
