#include "report/telling.hpp"
#include "report/faults.hpp"

#include <algorithm>

#include "base/characters.hpp"
#include "claims/rule.hpp"
#include "report/broken.hpp"
#include "report/cause_words.hpp"
#include "report/claim_words.hpp"
#include "report/never_words.hpp"
#include "report/plain.hpp"
#include "report/rules.hpp"
#include "report/slow.hpp"
#include "report/terminal.hpp"
#include "report/trapped.hpp"
#include "report/unmeasured.hpp"
#include "report/unusual.hpp"
#include "report/words.hpp"

namespace lanyard::report {

namespace {

class Told {
 public:
    void add(Passage&& p) {
        if (!p.sentences.empty() || !p.moments.empty() || !p.why.empty()) all_.push_back(std::move(p));
    }
    void add(const std::string& label, std::vector<std::string> sentences) {
        add(Passage{label, std::move(sentences)});
    }
    void add(const std::string& label, const std::string& sentence) {
        if (!sentence.empty()) add(Passage{label, {sentence}});
    }
    std::vector<Passage> take() { return std::move(all_); }

 private:
    std::vector<Passage> all_;
};

void tell_claim(Told& out, const Model& m, const Claim& c) {
    out.add("claim", claim_sentences(m, c));
    out.add("written as", sanitize_for_terminal(c.pattern));
    if (c.reached_under) out.add("reached under", condition_in_full(m, c.reached_under));
    out.add("under", condition_in_full(m, c.condition));
}

// Which of the faults that the conditions allow the run makes use of.
void tell_faults(Told& out, const Model& m, const Claim& c, const Run& run) {
    const auto allows = [&](ConditionId condition) { return condition && !m.conditions[condition].faults.empty(); };
    if (!allows(c.condition) && !allows(c.reached_under)) return;
    std::vector<std::string> used;
    for (const FaultId f : faults_of(run)) {
        used.push_back(m.faults[f].name + " (" + fault_words(m, f) + ")");
    }
    out.add("faults", used.empty() ? std::string("none: the run needs no fault") : joined(used, ", "));
}

// `closed`: the certificate of what may follow the run; null where there is none.
void tell_run(Told& out, const Film& film, bool broken, const Certificate* closed) {
    if (!film.is_complete()) return out.add("no story", "the run cannot be played: " + film.broken_rule());
    out.add(Passage{"", {}, moments(film)});
    out.add(broken ? "violated" : "reached", broken_words(film));
    Reasons reasons = broken ? broken_reasons(film) : Reasons{};
    out.add(Passage{"why", {}, {}, std::move(reasons.list)});
    if (film.causes() != nullptr) out.add("this is why *", cause_sentences(film.model(), film.run(), *film.causes()));
    if (broken) out.add("it takes", unusual_words(film));
    if (closed != nullptr) out.add("trapped", trapped_words(film, *closed));
    const std::string numbers = joined(unmeasured_numbers(film, reasons.signals), "; ");
    if (!numbers.empty()) out.add("rests on", "numbers that nobody has measured (common practice): " + numbers);
}

// Shorter than the first: what is different of it.
void tell_other(Told& out, const Film& film) {
    if (!film.is_complete()) return;
    out.add("another run", "that violates it for other reasons");
    out.add(Passage{"", {}, moments(film)});
    out.add("violated", broken_words(film));
    out.add("this is why *", cause_sentences(film.model(), film.run(), *film.causes()));
}

void tell_no_more(Told& out, const FilmedResult& r) {
    const bool only = r.others.empty();
    if (r.no_more == NoMore::none)
        out.add("no other run", std::string("every run that violates the claim has all ") +
                                    (only ? "of these causes" : "causes of one of these runs") +
                                    ", at one time or another");
    if (r.no_more == NoMore::cut_short)
        out.add("other runs", std::string("no ") + (only ? "" : "more ") +
                                  "runs with other causes were found, but the search was not complete");
}

void tell_certificate(Told& out, const Certificate& c) {
    out.add("assumes", joined(c.assumptions, "; "));
    out.add("uses", joined(c.elements, ", "));
    out.add("parts", joined(grouped(c.parts), ", "));
    out.add("not needed", joined(c.unused_elements, ", "));
    if (c.induction > 1) out.add("proof", "by induction over " + std::to_string(c.induction) + " steps");
}

// An expression at the end of a run. Its NOTs are left out, which say nothing about when: "the kill is on (since 2.6
// s)".
class AtEnd {
 public:
    // `name`: for what takes too many words.
    AtEnd(const Film& film, const Expr& e, const char* name) : film_(film), e_(&e), name_(name) {
        for (; e_->op == Op::not_; e_ = e_->args[0].get()) wanted_ = !wanted_;
    }
    bool is_true() const { return film_.truth(*e_, film_.end()) == wanted_; }
    long since() const { return film_.since(*e_, film_.end().scan); }
    // Of one that is true.
    std::string text() const {
        const std::string fact = plain_fact(film_, *e_), written = text_of(film_.model(), *e_);
        const std::string what = !fact.empty()                       ? fact
                                 : written.size() <= longest_summary ? written + (wanted_ ? " is true" : " is false")
                                                                     : std::string(name_) + " is true";
        return what + " (since " + scan_time(film_.model(), since()) + ")";
    }

 private:
    const Film& film_;
    const Expr* e_;
    const char* name_;
    bool wanted_ = true;
};

// What is so where the claim is exercised.
std::string states_text(const Film& film, const Expr& premise) {
    const Model& m = film.model();
    std::vector<std::string> states;
    const auto add = [&](const Expr& e) {
        if (e.op != Op::signal) return;
        const std::string words = state_words(m, e.signal, film.end().signals[e.signal]);
        if (std::find(states.begin(), states.end(), words) == states.end()) states.push_back(words);
    };
    add(premise);
    for (const auto& a : premise.args) visit(a, add);
    return joined(states, ", ");
}

// When the example exercises the claim, and how.
std::string demand_text(const Film& film) {
    if (!film.is_complete()) return "";
    const Model& m = film.model();
    const long end = film.end().scan;
    const std::string exercised =
        "a run exercises the claim at " + scan_time(m, end) + " (scan " + std::to_string(end) + ")";
    const auto rule = rule_of(*film.claim());
    if (!rule) return exercised;
    const AtEnd called(film, *rule->premise, "its condition"), answered(film, *rule->answer, "what it calls for");
    if (called.is_true() && answered.is_true() && called.since() > 0 && answered.since() >= called.since())
        return exercised + ": " + called.text() + ", " + answered.text();
    const std::string states = states_text(film, *rule->premise);
    return exercised + (states.empty() ? "" : ": " + states);
}

void tell_verdict(Told& out, const FilmedResult& r, const Proved& p) {
    if (p.playbook) return out.add(playbook_passage(*p.playbook));
    if (std::holds_alternative<Possible>(r.model.claims[r.claim].body)) return tell_run(out, r.film(), false, nullptr);
    out.add("for example", demand_text(r.film()));
}

void tell_never(Told& out, const FilmedResult& r, const Certificate& certificate) {
    out.add(Passage{"why", {}, {}, never_reasons(r.model, r.never)});
    out.add("because of", excluded_by(r.model, r.model.claims[r.claim], certificate, r.never));
    if (r.meant) out.add("perhaps meant", meant_words(r.model, *r.meant));
}

void tell_verdict(Told& out, const FilmedResult& r, const Refuted& v) {
    if (v.run) tell_faults(out, r.model, r.model.claims[r.claim], *v.run);
    if (v.run) tell_run(out, r.film(), true, v.certificate ? &*v.certificate : nullptr);
    if (v.certificate && !v.run) {
        out.add("refuted", broken_summary(r.film()));
        tell_never(out, r, *v.certificate);
    }
    out.add("note", sanitize_for_terminal(v.remark));
}

void tell_verdict(Told& out, const FilmedResult& r, const Vacuous& v) {
    out.add("vacuous", sanitize_for_terminal(v.reason));
    if (v.certificate && !v.tautology) tell_never(out, r, *v.certificate);
    if (r.film().frames().empty()) return;
    out.add(Passage{"", {}, moments(r.film())});
    out.add("then", "no scan may follow");
}

void tell_verdict(Told& out, const FilmedResult& r, const Undecided& u) {
    out.add("stopped by", sanitize_for_terminal(u.reason));
    if (u.depth > 0) out.add("known", searched_words(r, u));
    std::vector<std::string> slow = comparisons_of_two(r.model, r.claim);
    for (auto& text : slow) text = "'" + sanitize_for_terminal(text) + "' looks at two numbers that may both change";
    if (!slow.empty()) slow.back() += "; one number and a constant take fewer steps";
    out.add("slow where", std::move(slow));
}

}  // namespace

Passage playbook_passage(const Model& playbook) {
    const auto& steps = std::get<Procedure>(playbook.claims.back().body).phases;
    Passage out{"playbook"};
    for (std::size_t n = 0; n < steps.size(); ++n)
        out.sentences.push_back(std::to_string(n + 1) + ". " + sanitize_for_terminal(steps[n].text));
    out.sentences.emplace_back(
        "from every state that can be reached, every run that follows these steps reaches the goal");
    return out;
}

std::vector<Passage> telling(const FilmedResult& r, const StoryParts& parts) {
    Told out;
    const Model& m = r.model;
    const Claim& claim = m.claims[r.claim];
    const bool failed = std::holds_alternative<Refuted>(r.verdict) || std::holds_alternative<Vacuous>(r.verdict);
    tell_claim(out, m, claim);
    for (auto& [label, sentence] : words_on_rule(m, claim, failed)) out.add(label, sentence);
    std::visit([&](const auto& verdict) { tell_verdict(out, r, verdict); }, r.verdict);
    if (parts.others)
        for (const auto& other : r.others) tell_other(out, r.film(other));
    if (parts.others) tell_no_more(out, r);
    const Certificate* certificate = certificate_of(r.verdict);
    if (parts.certificates && certificate != nullptr) tell_certificate(out, *certificate);
    if (!r.leaps) out.add("note", "step acceleration could not be justified for this model; every step is one scan");
    return out.take();
}

}  // namespace lanyard::report
