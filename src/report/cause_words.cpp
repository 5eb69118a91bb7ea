#include "report/cause_words.hpp"

#include <algorithm>

#include "base/slot.hpp"
#include "circuit/words.hpp"
#include "report/words.hpp"

namespace lanyard::report {

namespace {

using EventKind = InputEvent::Kind;

// A quantity that moved on a line is played scan by scan: that would make a file of megabytes.
constexpr std::size_t most_segments = 60;

Choices choices_of(const Run& run, long scan) {
    for (const auto& s : run.segments) {
        if (scan < s.scans) return choices_at(s, scan);
        scan -= s.scans;
    }
    return choices_at(run.segments.back(), run.segments.back().scans - 1);
}

struct EventWords {
    std::string what;     // "key on at 1.00 s"
    std::string instead;  // "it had stayed off"
};

std::string quantity_words(const Model& m, const Run& run, const InputEvent& e) {
    const SignalId id = signal_of(m, e);
    const auto value = [&](long scan) { return choices_of(run, scan).quantities[slot(e.index)]; };
    const Rational now = value(e.scan);
    if (e.scan == 0) return m.name_of(id) + " " + number_text(m, id, now);
    const Rational was = value(e.scan - 1);
    const Rational& end = now == was ? value(e.until - 1) : now;
    return m.name_of(id) + (end > was ? " rises to " : " falls to ") + number_text(m, id, end);
}

std::string off_or_on(const Model& m, const InputEvent& e, const Value& v) {
    // "key on" without its name
    return change_words(m, signal_of(m, e), v).substr(m.name_of(signal_of(m, e)).size() + 1);
}

EventWords told(const Model& m, const Run& run, const RunCause::Part& p) {
    const InputEvent& e = p.event;
    const SignalId id = signal_of(m, e);
    const std::string stayed = e.scan == 0 ? "it had been " : "it had stayed ";
    switch (e.kind) {
        case EventKind::position:
        case EventKind::free_load: {
            const bool on = std::get<bool>(p.instead);
            return {change_words(m, id, !on), stayed + off_or_on(m, e, p.instead)};
        }
        case EventKind::missed:
            return {"the change of " + m.name_of(id) + " is missed", "it had been seen"};
        case EventKind::quantity: {
            const auto& x = std::get<Rational>(p.instead);
            const bool held = e.scan > 0 && choices_of(run, e.scan - 1).quantities[slot(e.index)] == x;
            return {quantity_words(m, run, e), (held ? "it had stayed at " : "it had been ") + number_text(m, id, x)};
        }
        case EventKind::reading:
            return {m.name_of(id) + " reads " + number_text(m, id, choices_of(run, e.scan).readings[slot(e.index)]),
                    "it had read what is there"};
        case EventKind::contact:
            return {m.name_of(id) + " is slow: still " + (std::get<bool>(p.instead) ? "open" : "closed"),
                    "it had moved at once"};
        case EventKind::wiring: {
            const bool fed = std::get<bool>(p.instead);
            return {probe_name(m, e.index) + (fed ? " does not work" : " works") + ", where it may or may not",
                    fed ? "it had worked" : "it had not worked"};
        }
        case EventKind::fault:
            return {m.faults[slot(e.index)].name, "it had not been there"};
        case EventKind::mode:
            return {"engine " + std::string(mode_name(choices_of(run, e.scan).next_mode)),
                    "it had stayed " + std::string(mode_name(std::get<Mode>(p.instead)))};
    }
    return {};
}

std::string text_of_part(const Model& m, const Run& run, const RunCause::Part& p) {
    return told(m, run, p).what + " at " + scan_time(m, shown_at(p.event));
}

}  // namespace

SignalId signal_of(const Model& m, const InputEvent& e) {
    const auto k = slot(e.index);
    switch (e.kind) {
        case EventKind::position:
            return m.switches[k].position;
        case EventKind::missed:
            return m.switches[k].seen;
        case EventKind::quantity:
            return m.quantities[k].signal;
        case EventKind::reading:
            return m.sensors[k].signal;
        case EventKind::contact:
            return m.relays[k].contact;
        case EventKind::free_load:
            return m.loads[k].signal;
        case EventKind::fault:
            return m.faults[k].signal;
        case EventKind::mode:
            return m.mode;
        case EventKind::wiring:
            break;
    }
    return -1;
}

long shown_at(const InputEvent& e) { return e.kind == EventKind::mode ? e.scan + 1 : e.scan; }

bool is_cause(const Model& m, const Causes& causes, SignalId signal, long scan) {
    const auto shows = [&](const RunCause::Part& p) {
        return shown_at(p.event) == scan && signal_of(m, p.event) == signal && p.event.kind != EventKind::contact;
    };
    return signal >= 0 && std::any_of(causes.list.begin(), causes.list.end(), [&](const RunCause& c) {
               return std::any_of(c.parts.begin(), c.parts.end(), shows);
           });
}

std::vector<std::string> cause_sentences(const Model& m, const Run& run, const Causes& causes) {
    std::vector<std::string> out;
    for (const auto& c : causes.list) {
        std::vector<std::string> what, instead;
        for (const auto& p : c.parts) {
            what.push_back(text_of_part(m, run, p));
            instead.push_back(told(m, run, p).instead);
        }
        const bool two = c.parts.size() > 1;
        out.push_back(joined(what, " and ") + ": " + (two ? "not alone, but if " : "if ") + joined(instead, " and ") +
                      ", nothing would be broken");
    }
    if (out.empty())
        out.emplace_back("no single choice: with any one or two of them otherwise, the run breaks the claim too");
    if (!causes.complete) out.emplace_back("not all choices of the run were tried");
    return out;
}

Json causes_json(const Model& m, const Run& run, const Causes& causes) {
    Json list = Json::array();
    for (const auto& c : causes.list) {
        Json parts = Json::array();
        for (const auto& p : c.parts) {
            const EventWords words = told(m, run, p);
            Json part = {{"scan", shown_at(p.event)},
                         {"time_s", exact_text(Rational(m.scan * shown_at(p.event)))},
                         {"what", words.what},
                         {"instead", words.instead}};
            if (const SignalId id = signal_of(m, p.event); id >= 0) part["signal"] = m.name_of(id);
            parts.push_back(part);
        }
        Json one = {{"parts", parts}};
        if (c.otherwise.segments.size() <= most_segments) one["otherwise"] = run_to_json(m, c.otherwise);
        list.push_back(one);
    }
    return {{"list", list}, {"complete", causes.complete}};
}

}  // namespace lanyard::report
