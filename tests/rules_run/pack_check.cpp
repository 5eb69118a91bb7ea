#include "pack_check.hpp"

#include <algorithm>
#include <chrono>
#include <iostream>
#include <map>
#include <set>

#include "lanyard/lanyard.hpp"

namespace lanyard::test {

namespace fs = std::filesystem;

namespace {

using Problems = std::vector<std::string>;

std::string name_in_pack(const api::PackRule& rule) { return rule.id.substr(rule.id.find('/') + 1); }

bool blank(const std::string& text) { return text.find_first_not_of(" \t\n") == std::string::npos; }

// The verdicts of the claims that the rule makes of the model.
class Twin {
 public:
    Twin(const fs::path& file, const fs::path& pack, const std::string& rule, Problems& problems)
        : name_(file.filename().string()), rule_(rule), problems_(problems) {
        if (!fs::exists(file)) {
            problem("there is no such file");
            return;
        }
        auto loaded = api::load(file, {pack.string()});
        if (const auto* rejected = std::get_if<api::Rejected>(&loaded))
            problem("rejected\n" + rejected->text);
        else
            judge(std::get<api::Model>(loaded));
    }

    void must_satisfy() {
        for (const auto& [claim, verdict] : verdicts_)
            if (!std::holds_alternative<api::Proved>(verdict))
                problem("'" + claim + "' is " + api::verdict_word(verdict));
    }
    void must_violate() {
        const bool refuted = std::any_of(verdicts_.begin(), verdicts_.end(),
                                         [](const auto& v) { return std::holds_alternative<api::Refuted>(v.second); });
        if (!verdicts_.empty() && !refuted) problem("no claim of the rule is refuted");
    }

 private:
    void judge(const api::Model& model) {
        api::CheckOptions options;
        options.limits.jobs = 1;
        for (const auto& c : model.claims())
            if (c.rule == rule_) options.claims.push_back(c.id);
        for (const auto& r : model.rules())
            if (r.rule == rule_ && !r.judged) return problem("the rule does not apply: " + r.why);
        if (options.claims.empty()) return problem("the rule makes no claim");
        const auto start = std::chrono::steady_clock::now();
        try {
            const auto checked = api::check(model, options);
            for (const auto& c : std::get<api::Results>(checked).claims) verdicts_.emplace_back(c.id, c.verdict);
        } catch (const api::InternalError& e) {
            return problem(std::string("internal error: ") + e.what());
        }
        const auto spent = std::chrono::steady_clock::now() - start;
        std::cout << name_ << ": " << std::chrono::duration_cast<std::chrono::milliseconds>(spent).count() << " ms"
                  << std::endl;
    }
    void problem(const std::string& text) { problems_.push_back(name_ + ": " + text); }

    std::string name_;
    std::string rule_;
    Problems& problems_;
    std::vector<std::pair<std::string, api::Verdict>> verdicts_;
};

void check_texts(const api::Pack& pack, Problems& problems) {
    for (const auto& [what, text] : {std::pair("title", pack.title), std::pair("publisher", pack.publisher),
                                     std::pair("edition", pack.edition), std::pair("scope", pack.scope)})
        if (blank(text)) problems.push_back(pack.id + ": its " + what + " is empty");
    for (const auto& rule : pack.rules) {
        if (blank(rule.citation)) problems.push_back(rule.id + ": no citation");
        if (blank(rule.requirement)) problems.push_back(rule.id + ": says nothing");
        if (blank(rule.advice)) problems.push_back(rule.id + ": no advice for who fails it");
    }
    for (const auto& i : pack.inspect)
        if (blank(i.citation) || blank(i.what)) problems.push_back(pack.id + ", " + i.name + ": no text or citation");
}

void check_files(const api::Pack& pack, const fs::path& folder, Problems& problems) {
    std::set<std::string> known{"pack.json"};
    for (const auto& rule : pack.rules) {
        known.insert(name_in_pack(rule) + ".satisfies.json");
        known.insert(name_in_pack(rule) + ".violates.json");
    }
    for (const auto& entry : fs::directory_iterator(folder)) {
        const std::string name = entry.path().filename().string();
        if (known.count(name) == 0) problems.push_back(name + ": belongs to no rule of the pack");
    }
}

std::vector<api::Pack> packs_in(const fs::path& rules, Problems& problems) {
    std::vector<api::Pack> packs;
    for (const auto& entry : fs::directory_iterator(rules)) {
        auto loaded = api::load_pack(fs::absolute(entry.path()).string());
        if (const auto* rejected = std::get_if<api::Rejected>(&loaded))
            problems.push_back(rejected->text);
        else
            packs.push_back(std::get<api::Pack>(std::move(loaded)));
    }
    if (packs.empty()) problems.push_back(rules.string() + ": no rule pack in this folder");
    return packs;
}

}  // namespace

std::vector<std::string> check_pack(const fs::path& given) {
    Problems problems;
    const fs::path folder = fs::absolute(given);  // a word alone would name a shipped pack
    const auto loaded = api::load_pack(folder.string());
    if (const auto* rejected = std::get_if<api::Rejected>(&loaded)) return {rejected->text};
    const auto& pack = std::get<api::Pack>(loaded);
    check_texts(pack, problems);
    check_files(pack, folder, problems);
    for (const auto& rule : pack.rules) {
        const fs::path file = folder / name_in_pack(rule);
        Twin(file.string() + ".satisfies.json", folder, rule.id, problems).must_satisfy();
        Twin(file.string() + ".violates.json", folder, rule.id, problems).must_violate();
    }
    std::cout << pack.rules.size() << " rules\n";
    return problems;
}

std::vector<std::string> check_together(const fs::path& rules) {
    Problems problems;
    const auto packs = packs_in(rules, problems);
    std::map<std::string, std::pair<const api::PackRole*, std::string>> roles;
    std::set<std::string> ids;
    for (const auto& pack : packs) {
        for (const auto& rule : pack.rules) ids.insert(rule.id);
        for (const auto& role : pack.roles) {
            const auto [at, is_new] = roles.emplace(role.name, std::pair(&role, pack.id));
            const auto& [first, where] = at->second;
            if (first->kind != role.kind || first->dimension != role.dimension)
                problems.push_back("role '" + role.name + "' is of one kind in " + where + " and of another in " +
                                   pack.id);
        }
    }
    for (const auto& pack : packs)
        for (const auto& rule : pack.rules)
            for (const auto& [other, why] : rule.conflicts)
                if (ids.count(other) == 0 || blank(why) || other == rule.id)
                    problems.push_back(rule.id + ": conflicts with '" + other + "', which is no other rule");
    return problems;
}

}  // namespace lanyard::test
