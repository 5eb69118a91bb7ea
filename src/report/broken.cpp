#include "report/broken.hpp"

#include "report/broken_parts.hpp"
#include "report/explainer.hpp"
#include "report/plain.hpp"
#include "report/words.hpp"

namespace lanyard::report {

namespace {

std::string truth_text(const Film& film, const Expr& e) {
    return text_of(film.model(), e) + (film.truth(e, film.end()) ? " is true" : " is false");
}

// An expression of several parts, part by part.
std::string parts_text(const Film& film, const Expr& e) {
    if (e.op == Op::implies) return truth_text(film, *e.args[0]) + "; " + parts_text(film, *e.args[1]);
    if (e.op != Op::and_ && e.op != Op::or_) return truth_text(film, e);
    std::vector<std::string> parts;
    for (const auto& a : e.args) parts.push_back(truth_text(film, *a));
    return joined(parts, "; ");
}

std::vector<std::string> words_for(const Film& film, const Always& a) {
    std::vector<std::string> out{moment(film, film.end().scan) + ": " + parts_text(film, *a.body)};
    if (!film.late().over)
        out.push_back("if everything stays as it is then, that is still so " +
                      duration_text(Rational(film.late().looked * film.model().scan)) + " later");
    return out;
}

// The scans of the watched window at which the value changed.
std::vector<long> changes(const Film& film, const ChangeLimit& l) {
    std::vector<long> out;
    const auto& frames = film.frames();
    for (std::size_t i = 1; i < frames.size(); ++i)
        if (frames[i].claim_now.begun && film.truth(*l.body, frames[i]) != film.truth(*l.body, frames[i - 1]))
            out.push_back(frames[i].scan);
    return out;
}

constexpr std::size_t first_times = 6, last_times = 2;

std::vector<std::string> words_for(const Film& film, const ChangeLimit& l) {
    const Model& m = film.model();
    const std::vector<long> scans = changes(film, l);
    std::vector<std::string> times;
    for (std::size_t k = 0; k < scans.size(); ++k) {
        const bool told = k < first_times || k + last_times >= scans.size();
        if (told) times.push_back(scan_time(m, scans[k]));
        if (!told && k == first_times) times.emplace_back("...");
    }
    return {text_of(m, *l.body) + " changes " + counted(std::ssize(scans), "time") + " within " +
            duration_text(l.in_any) + ": at " + joined(times, ", ")};
}

std::vector<std::string> words_for(const Film& film, const Recoverable& r) {
    return {"whatever is done from " + moment(film, film.end().scan) + " on, " + text_of(film.model(), *r.body) +
            (r.within ? " cannot be reached within " + duration_text(*r.within) : " can never be reached again")};
}

std::vector<std::string> words_for(const Film& film, const Possible& p) {
    return {moment(film, film.end().scan) + ": " + truth_text(film, *p.body)};
}

std::vector<std::string> words_for(const Film& film, const Response& r) { return response_words(film, r); }

std::vector<std::string> words_for(const Film& film, const Procedure& p) { return procedure_words(film, p); }

const Expr& right_side(const Claim& c) {
    if (const auto* a = std::get_if<Always>(&c.body)) return *a->body;
    if (const auto* r = std::get_if<Response>(&c.body)) return *r->then;
    if (const auto* p = std::get_if<Possible>(&c.body)) return *p->body;
    if (const auto* r = std::get_if<Recoverable>(&c.body)) return *r->body;
    if (const auto* l = std::get_if<ChangeLimit>(&c.body)) return *l->body;
    return *std::get<Procedure>(c.body).goal;
}

// The part of it that is false: of an arrow its right side, of an AND the first that is.
const Expr& false_part(const Film& film, const Expr& e) {
    if (e.op == Op::implies) return false_part(film, *e.args[1]);
    if (e.op != Op::and_) return e;
    for (const auto& a : e.args)
        if (!film.truth(*a, film.end())) return false_part(film, *a);
    return e;
}

std::string summary_for(const Film& film, const Always& a) {
    if (film.frames().empty()) return "";
    const Expr& part = false_part(film, *a.body);
    const std::string fact = plain_fact(film, part);
    return (fact.empty() ? named_with("what it claims", film.model(), part) + " is false" : fact) + " at " +
           scan_time(film.model(), film.end().scan);
}

std::string summary_for(const Film& film, const Possible& p) {
    const Model& m = film.model();
    const auto goal = plain_states(m, *p.body, true);
    const std::string how = goal ? plain_predicate(*goal) : "";
    if (how.empty())
        return "no run reaches " + (text_of(m, *p.body).size() <= longest_summary ? text_of(m, *p.body) : "its goal");
    // "both" stands before the verb.
    const bool several = goal->size() > 1;
    const std::size_t state = several ? how.find(' ') + 1 : 0;
    return plain_subject(*goal) + " can never " + how.substr(0, state) + "be " + how.substr(state);
}

std::string summary_for(const Film& film, const Recoverable& r) {
    const Model& m = film.model();
    const std::string goal = named_with("its goal", m, *r.body);
    if (r.within) return goal + " cannot be reached within " + duration_text(*r.within);
    const auto state = plain_state(m, *r.body, true);
    if (!state || state->state != "on") return goal + " can no longer be reached";
    return plain_subject({*state}) + (is_plural({*state}) ? " are" : " is") + " locked out";
}

std::string summary_for(const Film& film, const ChangeLimit& l) {
    const Model& m = film.model();
    const std::string times =
        counted(static_cast<long>(changes(film, l).size()), "time") + " within " + duration_text(l.in_any);
    const auto state = plain_state(m, *l.body, true);
    if (!state) return named_with("what it counts", m, *l.body) + " changes " + times;
    return plain_subject({*state}) + (is_plural({*state}) ? " change " : " changes ") + times;
}

// Why it is what it is after the last change, and why it was otherwise before.
Reasons change_reasons(const Film& film, const ChangeLimit& l) {
    const long end = film.end().scan, since = film.since(*l.body, end);
    Explainer explainer(film, end);
    Reasons out;
    out.list = explainer.truth(*l.body, end);
    if (since > 0)
        for (auto& r : explainer.truth(*l.body, since - 1)) {
            r.text = "before that, " + r.text;
            out.list.push_back(std::move(r));
        }
    out.signals = explainer.told();
    return out;
}

std::string summary_for(const Film& film, const Response& r) { return response_summary(film, r); }

std::string summary_for(const Film& film, const Procedure& p) { return procedure_summary(film, p); }

}  // namespace

std::string moment(const Film& film, long scan) {
    return scan_time(film.model(), scan) + " (scan " + std::to_string(scan) + ")";
}

std::vector<std::string> broken_words(const Film& film) {
    return std::visit([&](const auto& body) { return words_for(film, body); }, film.claim()->body);
}

Reasons broken_reasons(const Film& film) {
    const Claim& c = *film.claim();
    if (const auto* p = std::get_if<Procedure>(&c.body)) return procedure_reasons(film, *p);
    if (const auto* l = std::get_if<ChangeLimit>(&c.body)) return change_reasons(film, *l);
    // The goal that cannot be reached again may be there at the last scan.
    if (std::holds_alternative<Recoverable>(c.body) && film.truth(right_side(c), film.end())) return {};
    return reasons_for(film, right_side(c), film.end().scan);
}

std::string broken_summary(const Film& film) {
    const std::string failure = failure_words(film.model(), *film.claim());
    const bool seen = std::holds_alternative<Always>(film.claim()->body);
    if (!failure.empty()) return failure + (seen ? ", seen at " + scan_time(film.model(), film.end().scan) : "");
    return std::visit([&](const auto& body) { return summary_for(film, body); }, film.claim()->body);
}

}  // namespace lanyard::report
