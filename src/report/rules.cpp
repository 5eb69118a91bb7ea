#include "report/rules.hpp"

#include "base/characters.hpp"
#include "report/layout.hpp"
#include "report/words.hpp"

namespace lanyard::report {

namespace {

constexpr std::size_t rule_label_width = 17;

std::string line(const std::string& label, const std::string& text) {
    return labelled(label, rule_label_width, sanitize_for_terminal(text));
}

std::string pack_lines(const Pack& p) {
    return line("rule pack", p.id + ": " + p.title + "; " + p.publisher + ", " + p.edition) +
           line("", text_read_words(p.text_read)) + line("", "SHA-256 " + p.sha256);
}

std::string unjudged_lines(const Model& m, RuleState state, const std::string& label) {
    std::string out;
    for (const auto& use : m.rules)
        if (use.state == state) out += line(label, use.rule + ": " + state_reason(use));
    return out;
}

}  // namespace

std::vector<RuleConflict> conflicts_of(const Model& m) {
    std::vector<RuleConflict> all;
    const auto known = [&](const RuleConflict& c) {
        for (const auto& a : all)
            if (a.rule == c.other && a.other == c.rule) return true;
        return false;
    };
    for (const auto& pack : m.packs)
        for (const auto& rule : pack->rules)
            for (const auto& [other, why] : rule.conflicts) {
                RuleConflict c{rule.id, other, why};
                if (find_rule(m.packs, other) != nullptr && !known(c)) all.push_back(std::move(c));
            }
    return all;
}

std::string state_name(RuleState state) {
    switch (state) {
        case RuleState::judged:
            return "judged";
        case RuleState::roles_missing:
            return "roles missing";
        case RuleState::engine_missing:
            return "engine missing";
        case RuleState::wiring_missing:
            return "wiring missing";
    }
    return "";
}

std::string state_reason(const RuleUse& use) {
    if (use.state == RuleState::engine_missing) return "the model has no engine section";
    if (use.state == RuleState::wiring_missing) return "the model has no circuit section";
    std::string text;
    for (const auto& missing : use.missing) {
        text += (text.empty() ? "nothing plays " : "; nor ") + missing.name;
        if (!missing.candidates.empty()) text += " (perhaps " + joined(missing.candidates, ", ") + ")";
    }
    return text;
}

std::string rules_text(const Model& m) {
    if (m.packs.empty()) return "";
    std::string out;
    for (const auto& p : m.packs) out += pack_lines(*p);
    out += unjudged_lines(m, RuleState::roles_missing, "does not apply");
    out += unjudged_lines(m, RuleState::engine_missing, "does not apply");
    out += unjudged_lines(m, RuleState::wiring_missing, "does not apply");
    for (const auto& p : m.packs)
        for (const auto& i : p->inspect)
            out += line("by hand", p->id + ", " + i.name + ": " + i.what + " (" + i.citation + ")");
    for (const auto& use : m.rules)
        for (const auto& value : use.changed) out += line("other value", use.rule + ": " + value);
    for (const auto& c : conflicts_of(m)) out += line("conflict", c.rule + " and " + c.other + ": " + c.why);
    return out + line("remember", "a proved rule is not a certificate: the scrutineer or the authority decides");
}

std::vector<std::pair<std::string, std::string>> words_on_rule(const Model& m, const Claim& c, bool with_advice) {
    const PackRule* rule = c.rule.empty() ? nullptr : find_rule(m.packs, c.rule);
    if (rule == nullptr) return {};
    std::vector<std::pair<std::string, std::string>> out{
        {"rule", sanitize_for_terminal(rule->requirement)},
        {"written in", sanitize_for_terminal(rule->citation + "; " + text_read_words(rule->text_read))}};
    if (with_advice && !rule->advice.empty()) out.emplace_back("advice", sanitize_for_terminal(rule->advice));
    return out;
}

Json rules_json(const Model& m) {
    Json packs = Json::array();
    Json inspect = Json::array();
    for (const auto& p : m.packs) {
        packs.push_back({{"id", p->id},
                         {"title", p->title},
                         {"publisher", p->publisher},
                         {"edition", p->edition},
                         {"text_read", p->text_read},
                         {"sha256", p->sha256}});
        for (const auto& i : p->inspect)
            inspect.push_back({{"pack", p->id}, {"name", i.name}, {"what", i.what}, {"citation", i.citation}});
    }
    Json rules = Json::array();
    for (const auto& use : m.rules) {
        const PackRule* rule = find_rule(m.packs, use.rule);
        Json row = {{"rule", use.rule},
                    {"requires", rule->requirement},
                    {"citation", rule->citation},
                    {"text_read", rule->text_read},
                    {"state", state_name(use.state)}};
        for (const auto& missing : use.missing)
            row["missing"].push_back({{"role", missing.name}, {"candidates", missing.candidates}});
        if (!use.changed.empty()) row["changed"] = use.changed;
        rules.push_back(std::move(row));
    }
    Json conflicts = Json::array();
    for (const auto& c : conflicts_of(m)) conflicts.push_back({{"rule", c.rule}, {"other", c.other}, {"why", c.why}});
    return {{"packs", packs}, {"rules", rules}, {"inspect", inspect}, {"conflicts", conflicts}};
}

}  // namespace lanyard::report
