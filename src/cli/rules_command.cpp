// lanyard rules: which packs there are, and what the rules of one ask for.
#include <iostream>

#include "cli/commands.hpp"
#include "cli/terminal.hpp"

namespace lanyard::cli {

namespace {

constexpr std::size_t fact_width = 18;

std::string fact(const std::string& label, const std::string& text) {
    return text.empty() ? "" : two_columns("  " + label, fact_width, harmless(text), wide_page);
}

std::string known(const std::string& mark) { return mark + ": " + api::text_read_words(mark); }

std::string role_text(const api::Pack& pack, const std::string& name) {
    for (const api::PackRole& r : pack.roles)
        if (r.name == name)
            return name + " (" + r.kind + (r.dimension.empty() ? "" : ", a " + r.dimension) + "): " + r.meaning;
    return name;
}

std::string rule_text(const api::Pack& pack, const api::PackRule& rule) {
    std::string text = "\n" + harmless(rule.id) + "\n";
    text += fact("requires", rule.requirement);
    text += fact("written in", rule.citation);
    text += fact("text known", known(rule.text_read));
    std::string label = "roles";
    for (const std::string& name : rule.roles) {
        text += fact(label, role_text(pack, name));
        label.clear();
    }
    label = "parameters";
    for (const api::PackParameter& p : rule.parameters) {
        text += fact(label, p.name + " = " + p.value + ": " + p.meaning);
        label.clear();
    }
    for (const api::PackClaim& claim : rule.claims) {
        text += fact("claim", claim.name);
        for (const auto& [key, value] : claim.keys) text += fact("", key + ": " + value);
    }
    if (!rule.needs.empty()) text += fact("needs", rule.needs + ": it does not apply to a model without it");
    text += fact("advice", rule.advice);
    for (const auto& [other, why] : rule.conflicts) text += fact("conflicts with", other + ": " + why);
    return text;
}

std::string pack_text(const api::Pack& pack) {
    std::string text = harmless(pack.id) + "\n";
    text += fact("title", pack.title);
    text += fact("publisher", pack.publisher);
    text += fact("edition", pack.edition);
    text += fact("text known", known(pack.text_read));
    text += fact("scope", pack.scope);
    text += fact("SHA-256", pack.sha256);
    for (const api::PackRule& rule : pack.rules) text += rule_text(pack, rule);
    if (!pack.inspect.empty()) text += "\nTo be inspected by hand\n";
    for (const api::PackInspection& i : pack.inspect)
        text += two_columns("  " + harmless(i.name), 28, harmless(i.what + " (" + i.citation + ")"), wide_page);
    return text + "\nA proved rule is not a certificate: the scrutineer or the authority decides.\n";
}

std::string counted(const api::Pack& pack) {
    std::size_t wired = 0;
    for (const api::PackRule& rule : pack.rules) wired += rule.needs.empty() ? 0U : 1U;
    const std::size_t all = pack.rules.size();
    return std::to_string(all) + (all == 1 ? " rule" : " rules") +
           (wired > 0 ? " (" + std::to_string(wired) + " of the wiring)" : "") + ", " +
           std::to_string(pack.inspect.size()) + " inspections by hand";
}

}  // namespace

Exit rules_command(const CommandLine& line) {
    if (const auto name = line.text("PACK")) {
        const auto pack = api::load_pack(*name);
        if (const auto* rejected = std::get_if<api::Rejected>(&pack)) return complain(*rejected);
        std::cout << pack_text(std::get<api::Pack>(pack));
        return Exit::all_proved;
    }
    for (const std::string& id : api::shipped_packs()) {
        const auto found = api::load_pack(id);
        if (const auto* rejected = std::get_if<api::Rejected>(&found)) return complain(*rejected);
        const auto& pack = std::get<api::Pack>(found);
        std::cout << harmless(id) << '\n'
                  << fact("title", pack.title) << fact("publisher", pack.publisher + ", " + pack.edition)
                  << fact("text known", known(pack.text_read)) << fact("holds", counted(pack)) << '\n';
    }
    std::cout << "lanyard rules PACK explains one; lanyard check MODEL --rules PACK judges by it.\n";
    return Exit::all_proved;
}

}  // namespace lanyard::cli
