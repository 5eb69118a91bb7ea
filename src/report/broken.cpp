#include "report/broken.hpp"

#include <algorithm>

#include "claims/bounds.hpp"
#include "report/claim_words.hpp"
#include "report/late.hpp"
#include "report/words.hpp"

namespace lanyard::report {

namespace {

std::string moment(const Film& film, long scan) {
    return scan_time(film.model(), scan) + " (scan " + std::to_string(scan) + ")";
}

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

std::vector<std::string> words(const Film& film, const Always& a, int) {
    return {moment(film, film.end().scan) + ": " + parts_text(film, *a.body)};
}

std::string late_words(const Film& film, int claim) {
    const Late late = how_late(film.model(), film.run(), claim);
    const Model& m = film.model();
    const long end = film.end().scan;
    if (late.scans)
        return "with everything as it is then, it becomes true at " + scan_time(m, end + *late.scans) + ", " +
               duration_text(Rational(*late.scans * m.scan)) + " too late";
    if (late.over) return "";
    return "with everything as it is then, it is not true " + duration_text(Rational(late.looked * m.scan)) +
           " later either";
}

std::vector<std::string> words(const Film& film, const Response& r, int claim) {
    const Model& m = film.model();
    const long end = film.end().scan;
    const long bound = response_bound(r, m.scan);
    const long begin = std::max(0L, end - bound + 1);
    std::vector<std::string> out{moment(film, end) + ": " + text_of(m, *r.whenever) + " has been true since " +
                                 scan_time(m, begin) + " (" + std::to_string(end - begin + 1) +
                                 (end == begin ? " scan)" : " scans)") + ", and " + text_of(m, *r.then) +
                                 (film.truth(*r.then, film.end()) ? " comes too late in any case" : " is false")};
    const std::string sum = (r.for_time > 0 ? duration_text(r.for_time) + " + " : "") + duration_text(r.within);
    if (!response_is_too_fast(r, m.scan))
        out.push_back("of " + sum +
                      " one scan is for a condition that begins right behind a sample, one for the "
                      "output to take effect: due at scan " +
                      std::to_string(bound) + " of the condition");
    const std::string late = late_words(film, claim);
    if (!late.empty() && !film.truth(*r.then, film.end())) out.push_back(late);
    return out;
}

// The scans of the window that ends here at which the value changed.
std::vector<long> changes(const Film& film, const ChangeLimit& l) {
    const long window = change_window(l, film.model().scan);
    std::vector<long> out;
    const auto& frames = film.frames();
    for (std::size_t i = 1; i < frames.size(); ++i)
        if (film.truth(*l.body, frames[i]) != film.truth(*l.body, frames[i - 1]) &&
            frames[i].scan > film.end().scan - window)
            out.push_back(frames[i].scan);
    return out;
}

std::vector<std::string> words(const Film& film, const ChangeLimit& l, int) {
    const Model& m = film.model();
    std::vector<std::string> times;
    for (const long n : changes(film, l)) times.push_back(scan_time(m, n));
    return {text_of(m, *l.body) + " changes " + std::to_string(times.size()) + " times within " +
            duration_text(l.in_any) + ": at " + joined(times, ", ")};
}

std::vector<std::string> words(const Film& film, const Recoverable& r, int) {
    return {"whatever is done from " + moment(film, film.end().scan) + " on, " + text_of(film.model(), *r.body) +
            (r.within ? " cannot be reached within " + duration_text(*r.within) : " can never be reached again")};
}

std::vector<std::string> words(const Film& film, const Possible& p, int) {
    return {moment(film, film.end().scan) + ": " + truth_text(film, *p.body)};
}

std::vector<std::string> words(const Film& film, const Procedure& p, int) {
    const Model& m = film.model();
    const auto last = static_cast<long>(p.phases.size());
    const auto& frames = film.frames();
    const auto from =
        std::find_if(frames.begin(), frames.end(), [last](const Frame& f) { return f.phase >= last - 1; });
    std::string text = moment(film, film.end().scan) + ": " + text_of(m, *p.goal);
    if (from == frames.end()) return {text + " is judged, but the last step has not begun"};
    text += " has not been true since the last step began at " + scan_time(m, from->scan);
    const long phase = film.end().phase;
    const std::string step = phase >= last ? "the steps are over" : "step " + std::to_string(phase + 1) + " is on";
    const std::string due = p.within ? "; it was due by " + duration_text(*p.within) : "";
    return {text + "; " + step + due};
}

const Expr& right_side(const Claim& c) {
    if (const auto* a = std::get_if<Always>(&c.body)) return *a->body;
    if (const auto* r = std::get_if<Response>(&c.body)) return *r->then;
    if (const auto* p = std::get_if<Possible>(&c.body)) return *p->body;
    if (const auto* r = std::get_if<Recoverable>(&c.body)) return *r->body;
    if (const auto* l = std::get_if<ChangeLimit>(&c.body)) return *l->body;
    return *std::get<Procedure>(c.body).goal;
}

constexpr std::size_t longest = 40;

// The part of it that is false: of an arrow its right side, of an AND the first that is.
const Expr& false_part(const Film& film, const Expr& e) {
    if (e.op == Op::implies) return false_part(film, *e.args[1]);
    if (e.op != Op::and_) return e;
    for (const auto& a : e.args)
        if (!film.truth(*a, film.end())) return false_part(film, *a);
    return e;
}

std::string summary_of(const Model& m, const Run& run, const Always& a, int claim) {
    const Film film(m, run, claim_at(m, claim).condition, claim);
    if (film.frames().empty()) return "";
    return short_text(m, false_part(film, *a.body), longest) + " is false at " + scan_time(m, film.end().scan);
}

std::string summary_of(const Model& m, const Run& run, const Response& r, int claim) {
    const Late late = how_late(m, run, claim);
    const std::string answer = short_text(m, *r.then, longest);
    if (late.scans) return answer + " comes " + duration_text(Rational(*late.scans * m.scan)) + " too late";
    return answer + (late.over ? " comes too late" : " does not come");
}

std::string summary_of(const Model& m, const Run&, const Possible& p, int) {
    return "no run gets to " + short_text(m, *p.body, longest);
}

std::string summary_of(const Model& m, const Run&, const Recoverable& r, int) {
    return short_text(m, *r.body, longest) + " is locked out";
}

std::string summary_of(const Model& m, const Run& run, const ChangeLimit& l, int claim) {
    const Film film(m, run, claim_at(m, claim).condition, claim);
    return short_text(m, *l.body, longest) + " changes " + std::to_string(changes(film, l).size()) + " times within " +
           duration_text(l.in_any);
}

bool is_running(const Expr& e) {
    return e.op == Op::eq && e.args[0]->type.kind == TypeKind::mode &&
           (e.args[0]->mode == Mode::running || e.args[1]->mode == Mode::running);
}

std::string summary_of(const Model& m, const Run& run, const Procedure& p, int claim) {
    const Claim& c = claim_at(m, claim);
    if (is_running(*p.goal)) {
        const Film film(m, run, c.condition, claim);
        const bool fires = std::any_of(film.frames().begin(), film.frames().end(), [&](const Frame& f) {
            return std::get<Mode>(at(f.signals, m.mode)) == Mode::running;
        });
        const bool healthy = m.conditions[static_cast<std::size_t>(c.condition)].healthy;
        if (!fires) return healthy ? "some healthy engine never fires" : "some engine never fires";
    }
    return short_text(m, *p.goal, longest) + " is not reached";
}

}  // namespace

std::vector<std::string> broken_words(const Film& film, int claim) {
    const Claim& c = claim_at(film.model(), claim);
    return std::visit([&](const auto& body) { return words(film, body, claim); }, c.body);
}

Reasons broken_reasons(const Film& film, int claim) {
    return reasons_for(film, right_side(claim_at(film.model(), claim)), film.end().scan);
}

std::string broken_summary(const Model& m, const Run& run, int claim) {
    return std::visit([&](const auto& body) { return summary_of(m, run, body, claim); }, claim_at(m, claim).body);
}

}  // namespace lanyard::report
