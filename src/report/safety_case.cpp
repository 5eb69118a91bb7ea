#include "report/safety_case.hpp"

#include <algorithm>
#include <array>
#include <map>

#include "base/characters.hpp"
#include "model/packs.hpp"
#include "report/claim_words.hpp"
#include "report/rules.hpp"
#include "report/terminal.hpp"
#include "report/unmeasured.hpp"
#include "report/words.hpp"

namespace lanyard::report {

namespace {

using Kind = SafetyCase::Kind;
using Standing = SafetyCase::Standing;
using Relation = SafetyCase::Relation;

constexpr std::array<const char*, 6> prefixes{"G", "S", "Sn", "C", "A", "J"};

class Maker {
 public:
    Maker(const Model& m, const FilmedResults& results, const std::vector<EvidenceMark>& evidence,
          const Versions& versions)
        : m_(m), versions_(versions) {
        for (const auto& r : results) results_[r.claim] = &r;
        for (const auto& e : evidence) evidence_[e.claim] = &e;
    }

    SafetyCase make() {
        const std::size_t top =
            add(Kind::goal, sanitize_for_terminal(m_.name) +
                                " does what its claims and the chosen rules demand, in every run of its model");
        context_of(top);
        own_claims(top);
        for (const auto& pack : m_.packs) rules(top, *pack);
        const auto& links = out_.elements[top].links;
        out_.elements[top].undeveloped =
            std::none_of(links.begin(), links.end(), [](const auto& l) { return l.first == Relation::supported_by; });
        settle(top);
        return std::move(out_);
    }

 private:
    const Model& m_;
    const Versions& versions_;
    std::map<ClaimId, const FilmedResult*> results_;
    std::map<ClaimId, const EvidenceMark*> evidence_;
    SafetyCase out_;
    std::array<int, prefixes.size()> count_{};
    std::map<std::pair<Kind, std::string>, std::size_t> shared_;

    std::size_t add(Kind kind, const std::string& statement) {
        const std::size_t k = ordinal(kind);
        SafetyCase::Element e;
        e.kind = kind;
        e.id = prefixes[k] + std::to_string(++count_[k]);
        e.statement = sanitize_for_terminal(statement);
        out_.elements.push_back(std::move(e));
        return out_.elements.size() - 1;
    }
    // What several goals stand on is one element.
    std::size_t once(Kind kind, const std::string& statement) {
        const auto known = shared_.find({kind, statement});
        if (known != shared_.end()) return known->second;
        return shared_[{kind, statement}] = add(kind, statement);
    }
    void link(std::size_t from, Relation relation, std::size_t to) {
        out_.elements[from].links.emplace_back(relation, to);
    }
    std::size_t supporting(std::size_t above, Kind kind, const std::string& statement) {
        const std::size_t e = add(kind, statement);
        link(above, Relation::supported_by, e);
        return e;
    }
    void beside(std::size_t e, Kind kind, const std::string& statement) {
        link(e, Relation::in_context_of, once(kind, statement));
    }

    void context_of(std::size_t top) {
        beside(top, Kind::context,
               "model file " + file_name(m_) + ", SHA-256 " + m_.sha256 + ", scan " + duration_text(m_.scan));
        beside(top, Kind::context,
               "judged by lanyard " + versions_.lanyard + ", " + versions_.solver +
                   "; SAFETY.md says what its verdicts promise and what they do not");
        beside(top, Kind::assumption,
               "the vehicle is built, wired and set up as the model says; no model can show that");
        for (const auto& number : unmeasured_numbers(m_))
            beside(top, Kind::assumption, number + " (common practice, not measured)");
    }

    void own_claims(std::size_t top) {
        const auto own = [](const Claim& c) { return c.rule.empty(); };
        if (std::none_of(m_.claims.begin(), m_.claims.end(), own)) return;
        const std::size_t s = supporting(top, Kind::strategy, "argument over each claim of the model");
        beside(
            s, Kind::justification,
            "each proof is an invariant that a fresh solver has checked again, each refutation a run that a separate "
            "interpreter has played again");
        for (const ClaimId k : m_.claims.ids())
            if (own(m_.claims[k])) claim(s, k);
    }

    void rules(std::size_t top, const Pack& pack) {
        const std::size_t s = supporting(top, Kind::strategy, "argument over each rule of " + pack.id);
        beside(s, Kind::justification,
               pack.title + "; " + pack.publisher + ", " + pack.edition + "; " + text_read_words(pack.text_read) +
                   "; SHA-256 " + pack.sha256);
        for (const auto& c : conflicts_of(m_))
            if (c.rule.starts_with(pack.id + "/"))
                beside(s, Kind::context, "conflict: " + c.rule + " and " + c.other + ": " + c.why);
        for (const auto& use : m_.rules)
            if (use.rule.starts_with(pack.id + "/")) rule(s, use);
        for (const auto& i : pack.inspect) {
            const std::size_t g = supporting(s, Kind::goal, "by hand: " + i.name + ": " + i.what);
            beside(g, Kind::justification, i.citation);
            out_.elements[g].undeveloped = true;
        }
    }

    void rule(std::size_t above, const RuleUse& use) {
        const PackRule& rule = *find_rule(m_.packs, use.rule);
        const std::string not_judged =
            use.state == RuleState::judged ? "" : " (does not apply: " + state_reason(use) + ")";
        const std::size_t g = supporting(above, Kind::goal, rule.id + ": " + rule.requirement + not_judged);
        beside(g, Kind::justification, rule.citation + "; " + text_read_words(rule.text_read));
        for (const auto& changed : use.changed) beside(g, Kind::context, "other value: " + changed);
        bool judged = false;
        for (const ClaimId k : m_.claims.ids()) {
            if (m_.claims[k].rule != rule.id) continue;
            claim(g, k);
            judged = true;
        }
        out_.elements[g].undeveloped = !judged;
    }

    void claim(std::size_t above, ClaimId index) {
        const Claim& c = m_.claims[index];
        const std::size_t g = supporting(above, Kind::goal, c.id + ": " + joined(claim_sentences(m_, c), "; "));
        beside(g, Kind::context, "under " + condition_in_full(m_, c.condition));
        if (!c.note.empty()) beside(g, Kind::justification, c.note);
        const auto known = results_.find(index);
        if (known == results_.end()) {
            out_.elements[g].statement += " (not judged)";
            out_.elements[g].undeveloped = true;
            return;
        }
        const FilmedResult& r = *known->second;
        if (const Certificate* certificate = certificate_of(r.verdict)) {
            for (const auto& a : certificate->assumptions) beside(g, Kind::assumption, a);
            if (!certificate->parts.empty())
                beside(g, Kind::assumption, "on the car as in the model: " + joined(grouped(certificate->parts), ", "));
        }
        if (std::holds_alternative<Undecided>(r.verdict)) {
            out_.elements[g].statement += " (undecided: " + summary(r) + ")";
            out_.elements[g].undeveloped = true;
            return;
        }
        const bool holds = std::holds_alternative<Proved>(r.verdict);
        const std::size_t s = add(Kind::solution, evidence_words(r));
        link(g, holds ? Relation::supported_by : Relation::challenged_by, s);
        if (!holds) out_.elements[g].standing = Standing::not_met;
    }

    std::string evidence_words(const FilmedResult& r) const {
        std::string text = verdict_word(r.verdict) + ": " + summary(r);
        const auto mark = evidence_.find(r.claim);
        if (mark != evidence_.end()) text += "; evidence " + mark->second->folder + ", SHA-256 " + mark->second->sha256;
        return text;
    }

    // From below: one goal that is not met is enough, one that is open next.
    Standing settle(std::size_t index) {
        Standing worst = out_.elements[index].standing;
        if (worst == Standing::met && out_.elements[index].undeveloped) worst = Standing::open;
        for (const auto& [relation, to] : std::vector(out_.elements[index].links))
            if (relation == Relation::supported_by) worst = std::max(worst, settle(to));
        return out_.elements[index].standing = worst;
    }
};

}  // namespace

SafetyCase safety_case(const Model& m, const FilmedResults& results, const std::vector<EvidenceMark>& evidence,
                       const Versions& versions) {
    return Maker(m, results, evidence, versions).make();
}

std::string kind_name(Kind kind) {
    static constexpr std::array<const char*, prefixes.size()> names{"goal",    "strategy",   "solution",
                                                                    "context", "assumption", "justification"};
    return names[ordinal(kind)];
}

std::string standing_name(Standing standing) {
    static constexpr std::array<const char*, 3> names{"met", "OPEN", "NOT MET"};
    return names[ordinal(standing)];
}

}  // namespace lanyard::report
