// What calls for a response, when it was due, and how late it is.
#include <algorithm>

#include "claims/bounds.hpp"
#include "report/broken.hpp"
#include "report/broken_parts.hpp"
#include "report/plain.hpp"
#include "report/words.hpp"

namespace lanyard::report {

namespace {

// A response is violated at the scan at which it is due: so many scans after the one from which it is waited for.
long waited_from(const Film& film, const Response& r) {
    const Rational& scan = film.model().scan;
    const bool at_once = r.manner != Manner::while_it_lasts && response_is_too_fast(r, scan);
    return at_once ? film.end().scan : std::max(0L, film.end().scan - response_bound(r, scan) + 1);
}

bool comes_too_late(const Film& film, const Response& r) {
    return film.truth(*r.then, film.end()) || response_is_too_fast(r, film.model().scan);
}

std::string while_words(const Film& film, const Response& r) {
    const Model& m = film.model();
    const long begin = film.since(*r.whenever, film.end().scan);
    return text_of(m, *r.whenever) + " has been true since " + scan_time(m, begin) + " (" +
           counted(film.end().scan - begin + 1, "scan") + "), and " + text_of(m, *r.then) +
           (film.truth(*r.then, film.end()) ? " comes too late in any case" : " is false");
}

std::string no_answer(const Film& film, const Response& r, long from) {
    const Model& m = film.model();
    const long end = film.end().scan;
    if (comes_too_late(film, r)) return "; " + text_of(m, *r.then) + " comes too late in any case";
    return "; " + text_of(m, *r.then) + " is not true at any scan from " +
           (from == end ? "there on" : scan_time(m, from) + " on: not answered by scan " + std::to_string(end));
}

std::string once_words(const Film& film, const Response& r) {
    const Model& m = film.model();
    const long calls = response_calls(r, m.scan);
    const bool too_fast = response_is_too_fast(r, m.scan);
    const long from = too_fast ? std::max(0L, film.end().scan - calls + 1) : waited_from(film, r);
    const std::string held =
        calls == 1 ? " was true"
                   : " had been true since " + scan_time(m, from) + " (" + counted(calls, "scan") + " in a row)";
    return "called for at " + scan_time(m, from + calls - 1) + ", when " + text_of(m, *r.whenever) + held +
           no_answer(film, r, from);
}

std::string total_words(const Film& film, const Response& r) {
    const Model& m = film.model();
    const long from = waited_from(film, r);
    const std::string times = "at " + counted(response_calls(r, m.scan), "scan");
    return "called for at " + scan_time(m, from) + ", when " + text_of(m, *r.whenever) + " had been true " + times +
           " of the " + duration_text(r.out_of) + " that begin at " + scan_time(m, std::max(0L, film.begins())) +
           no_answer(film, r, from);
}

std::string call_words(const Film& film, const Response& r) {
    if (r.manner == Manner::once_begun) return once_words(film, r);
    return r.manner == Manner::in_total ? total_words(film, r) : while_words(film, r);
}

std::string due_words(const Film& film, const Response& r) {
    const Model& m = film.model();
    const long bound = response_bound(r, m.scan);
    const bool both = r.for_time > 0 && r.manner != Manner::in_total;
    const std::string due =
        r.manner == Manner::while_it_lasts
            ? "due at scan " + std::to_string(bound) + " of the condition"
            : "due within " + counted(bound, "scan") + " from " + scan_time(m, waited_from(film, r)) + " on";
    return due + ": " + (both ? duration_text(r.for_time) + " + " : "") + duration_text(r.within) +
           " less up to a scan to see it and one to act";
}

std::string late_words(const Film& film) {
    const Late& late = film.late();
    const Model& m = film.model();
    const long end = film.end().scan;
    if (late.scans)
        return "if everything stays as it is then, it becomes true at " + scan_time(m, end + *late.scans) + ", " +
               duration_text(Rational(*late.scans * m.scan)) + " too late";
    if (late.over) return "";
    return "if everything stays as it is then, it is still not true " + duration_text(Rational(late.looked * m.scan)) +
           " later";
}

}  // namespace

std::string time_note() {
    return "The time of a response counts from when its condition really begins: the controller may see that up to one "
           "scan later, and its output may act up to one scan after it decides. So the answer is due up to two scans "
           "earlier than the time alone would have it (lanyard help claims).";
}

bool needs_time_note(const Claim& c, const Verdict& v) {
    const auto* refuted = std::get_if<Refuted>(&v);
    return refuted != nullptr && refuted->run && std::holds_alternative<Response>(c.body);
}

std::vector<std::string> response_words(const Film& film, const Response& r) {
    std::vector<std::string> out{moment(film, film.end().scan) + ": " + call_words(film, r)};
    if (response_is_too_fast(r, film.model().scan)) return out;
    out.push_back(due_words(film, r));
    const std::string late = late_words(film);
    if (!late.empty() && !film.truth(*r.then, film.end())) out.push_back(late);
    return out;
}

std::string response_summary(const Film& film, const Response& r) {
    const Model& m = film.model();
    const Late& late = film.late();
    // By how much is this run's, and no bound for others.
    const std::string too_late = late.scans ? " too late" : "";
    const auto answer = plain_states(m, *r.then, true);
    if (!answer || plain_predicate(*answer).empty()) {
        const std::string text = named_with("the answer", m, *r.then);
        if (late.scans) return text + " comes" + too_late;
        return text + (late.over ? " does not come in time" : " does not come");
    }
    const std::string subject = plain_subject(*answer), be = is_plural(*answer) ? " are " : " is ";
    const std::string& state = answer->front().state;
    // One thing that is on or off was the other at the scan at which the answer was due, and is so until it changes.
    const bool switches = answer->size() == 1 && (state == "on" || state == "off");
    const bool many = is_plural(*answer);
    // What is still so as it should no longer be.
    const bool lasts = answer->size() == 1 && state.starts_with("not ") && !film.truth(*r.then, film.end());
    if (lasts && late.scans)
        return subject + be + state.substr(4) + " for " + duration_text(Rational(*late.scans * m.scan)) + " too long";
    if (lasts) return subject + be + "still " + state.substr(4) + " when the answer is due";
    if (switches && late.scans)
        return subject + (state == "on" ? many ? " come on" : " comes on" : many ? " go off" : " goes off") + too_late;
    if (switches && !late.over) return subject + (many ? " stay " : " stays ") + (state == "on" ? "off" : "on");
    if (late.scans) return subject + be + plain_predicate(*answer) + too_late;
    return subject + be + "not " + plain_predicate(*answer) + " in time";
}

}  // namespace lanyard::report
