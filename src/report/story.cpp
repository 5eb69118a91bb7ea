#include "report/story.hpp"

#include <algorithm>

#include "model/fault_kinds.hpp"
#include "report/broken.hpp"
#include "report/claim_words.hpp"
#include "report/layout.hpp"
#include "report/moments.hpp"
#include "report/rules.hpp"
#include "report/terminal.hpp"
#include "report/trapped.hpp"
#include "report/unmeasured.hpp"
#include "report/words.hpp"

namespace lanyard {

namespace {

using namespace report;

constexpr std::size_t label_width = 14;

std::string section(const std::string& label, const std::string& text) {
    return text.empty() ? "" : labelled(label, label_width, text);
}

std::string section(const std::string& label, const std::vector<std::string>& sentences) {
    std::string out;
    for (const auto& s : sentences) out += labelled(out.empty() ? label : "", label_width, s);
    return out;
}

std::string list(const std::string& label, const std::vector<std::string>& items) {
    return section(label, joined(items, ", "));
}

std::string claim_section(const Model& m, const Claim& c) {
    const Condition& condition = m.conditions[static_cast<std::size_t>(c.condition)];
    std::string under = one_line(condition.text);
    // A condition that is called by its name is said in full.
    if (condition.text == condition.name && c.condition > 1) {
        std::vector<std::string> says{condition.healthy ? "healthy" : "any"};
        for (const auto& [q, interval] : condition.replaced) {
            const SignalId id = m.quantities[static_cast<std::size_t>(q)].signal;
            says.push_back("except " + m.name_of(id) + " within " + interval_text(m, id, interval));
        }
        for (const auto& e : condition.holds) says.push_back(text_of(m, *e));
        if (says.size() > 1) under += ": " + joined(says, ", ");
    }
    std::string out = section("claim", claim_sentences(m, c)) + section("written as", one_line(c.pattern));
    if (c.reached_under >= 0)
        out += section("reached under", one_line(m.conditions[static_cast<std::size_t>(c.reached_under)].text));
    return out + section("under", under);
}

// Which of the faults that the conditions allow the run makes use of.
std::string fault_section(const Model& m, const Claim& c, const Run& run) {
    const auto allows = [&](int condition) {
        return condition >= 0 && !m.conditions[static_cast<std::size_t>(condition)].faults.empty();
    };
    if (!allows(c.condition) && !allows(c.reached_under)) return "";
    std::vector<std::string> used;
    for (const int f : faults_of(run)) {
        const Fault& fault = m.faults[static_cast<std::size_t>(f)];
        used.push_back(fault.name + " (" + fault_story(fault) + ")");
    }
    return section("faults", used.empty() ? std::string("none: the run needs no fault") : joined(used, ", "));
}

// `closed`: the certificate of what may follow the run; null where there is none.
std::string run_story(const Model& m, const Run& run, int claim, bool broken, const Certificate* closed) {
    const Claim& c = claim_at(m, claim);
    const Film film(m, run, c.condition, claim);
    if (film.frames().empty() || !film.broken_rule().empty())
        return section("no story", "the run cannot be played: " + film.broken_rule());
    const Cone cone = cone_of(m, c.condition, claim);
    std::string out = '\n' + moments_table(moments(film, cone)) + '\n';
    out += section(broken ? "broken" : "reached", broken_words(film, claim));
    const Reasons reasons = broken ? broken_reasons(film, claim) : Reasons{};
    out += reasons_text(reasons.list, "why", label_width);
    if (closed != nullptr) out += section("trapped", trapped_words(film, cone, *closed));
    const std::string numbers = joined(unmeasured_numbers(film, cone, reasons.signals, c.condition), "; ");
    return out + (numbers.empty()
                      ? ""
                      : section("rests on", "numbers that nobody has measured (common practice): " + numbers));
}

std::string certificate_text(const Certificate& c) {
    std::string out = section("assumes", joined(c.assumptions, "; ")) + list("uses", c.elements) +
                      list("not needed", c.unused_elements);
    if (c.induction > 1) out += section("proof", "by induction over " + std::to_string(c.induction) + " steps");
    return out;
}

const Expr* premise_of(const Claim& c) {
    if (const auto* a = std::get_if<Always>(&c.body))
        return a->body->op == Op::implies ? a->body->args[0].get() : nullptr;
    if (const auto* r = std::get_if<Response>(&c.body)) return r->whenever.get();
    return nullptr;
}

// When the claim demands something in the example, and what is so then.
std::string demand_text(const Model& m, const Run& example, int claim) {
    const Claim& c = claim_at(m, claim);
    if (example.segments.empty()) return "";
    const Film film(m, example, c.condition, claim);
    if (film.frames().empty() || !film.broken_rule().empty()) return "";
    std::vector<std::string> states;
    const auto add = [&](const Expr& e) {
        if (e.op != Op::signal) return;
        const std::string words = state_words(m, e.signal, at(film.end().signals, e.signal));
        if (std::find(states.begin(), states.end(), words) == states.end()) states.push_back(words);
    };
    if (const Expr* p = premise_of(c)) {
        add(*p);
        for (const auto& a : p->args) visit(a, add);
    }
    const std::string when = scan_time(m, film.end().scan) + " (scan " + std::to_string(film.end().scan) + ")";
    return "at " + when + " in a run it demands something" + (states.empty() ? "" : ": " + joined(states, ", "));
}

// What a driver does to get to the goal from wherever he is.
std::string playbook_text(const Model& playbook) {
    const auto& steps = std::get<Procedure>(playbook.claims.back().body).phases;
    std::string out;
    for (std::size_t n = 0; n < steps.size(); ++n)
        out += section(n == 0 ? "playbook" : "", std::to_string(n + 1) + ". " + one_line(steps[n].text));
    return out + section("", "from every state that can be reached, every run that follows these steps gets there");
}

std::string body(const Model& m, int claim, const Proved& p) {
    if (p.playbook) return playbook_text(*p.playbook);
    if (std::holds_alternative<Possible>(claim_at(m, claim).body))
        return run_story(m, p.example, claim, false, nullptr);
    return section("for example", demand_text(m, p.example, claim));
}

std::string body(const Model& m, int claim, const Refuted& r) {
    std::string out;
    if (r.run) out += fault_section(m, claim_at(m, claim), *r.run);
    if (r.run) out += run_story(m, *r.run, claim, true, r.certificate ? &*r.certificate : nullptr);
    if (r.certificate && !r.run) out += section("broken", broken_summary(m, {}, claim));
    return out + section("note", one_line(r.remark));
}

std::string body(const Model& m, int claim, const Vacuous& v) {
    std::string out = section("says nothing", one_line(v.reason));
    if (v.run && !v.run->segments.empty()) {
        const std::string table = moments_text(m, *v.run, claim_at(m, claim).condition, -1);
        if (!table.empty()) out += '\n' + table + '\n' + section("then", "no scan may follow");
    }
    return out;
}

std::string body(const Model& m, int claim, const Undecided& u) {
    const bool possible = std::holds_alternative<Possible>(claim_at(m, claim).body);
    std::string out = section("stopped by", one_line(u.reason));
    if (u.depth > 0)
        out += section("known", (possible ? "not reached within " : "no counterexample within ") +
                                    std::to_string(u.depth) + (u.depth == 1 ? " leap" : " leaps"));
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
    const Claim& c = claim_at(m, r.claim);
    return one_line(c.id) + ": " + verdict_word(r.verdict) + ", " + file_name(m) + ":" + std::to_string(c.place.line) +
           ":" + std::to_string(c.place.column);
}

std::string story(const Model& m, const ClaimResult& r, bool certificates) {
    const Certificate* c = certificate_of(r.verdict);
    const bool failed = std::holds_alternative<Refuted>(r.verdict) || std::holds_alternative<Vacuous>(r.verdict);
    return claim_section(m, claim_at(m, r.claim)) + rule_of_claim(m, claim_at(m, r.claim), label_width, failed) +
           std::visit([&](const auto& verdict) { return body(m, r.claim, verdict); }, r.verdict) +
           (certificates && c != nullptr ? certificate_text(*c) : "") +
           (r.leaps ? ""
                    : section("note",
                              "it is not settled for this model that many scans may be taken in one step: "
                              "each step of the search was one scan"));
}

std::string moments_text(const Model& m, const Run& run, int condition, int claim) {
    const Film film(m, run, condition, claim);
    return film.frames().empty()
               ? ""
               : moments_table(moments(film, claim < 0 ? whole_model(m) : cone_of(m, condition, claim)));
}

std::string safety_line() { return "What these verdicts promise and what they do not: SAFETY.md"; }

std::string whole_report(const Model& m, const std::vector<ClaimResult>& results, const Versions& versions) {
    std::string out = heading(m, versions) + "\n\n";
    for (const auto& r : results) out += terminal_line(m, r, false) + '\n';
    for (const bool good : {false, true})
        for (const auto& r : results)
            if (std::holds_alternative<Proved>(r.verdict) == good)
                out += '\n' + story_heading(m, r) + '\n' + indented(story(m, r));
    return out + '\n' + safety_line() + '\n';
}

}  // namespace lanyard
