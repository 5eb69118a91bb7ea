#include "report/cause_marks.hpp"

#include <algorithm>

#include "circuit/words.hpp"
#include "report/faults.hpp"
#include "report/words.hpp"

namespace lanyard::report {

namespace {

using EventKind = InputEvent::Kind;

std::string quantity_words(const Model& m, const Run& run, const InputEvent& e) {
    const SignalId id = signal_of(m, e);
    const auto value = [&](long scan) { return choices_at(run, scan).quantities[e.index]; };
    const Rational now = value(e.scan);
    if (e.scan == 0) return m.name_of(id) + " " + number_text(m, id, now);
    const Rational was = value(e.scan - 1);
    const Rational& end = now == was ? value(e.until - 1) : now;
    if (end == was) return m.name_of(id) + " stays at " + number_text(m, id, end);
    return m.name_of(id) + (end > was ? " rises to " : " falls to ") + number_text(m, id, end);
}

std::string off_or_on(const Model& m, const InputEvent& e, const Value& v) {
    // "key on" without its name
    return change_words(m, signal_of(m, e), v).substr(m.name_of(signal_of(m, e)).size() + 1);
}

// `is`: the answer that the wiring gave, `had`: "it had been" or "it had stayed".
EventWords answer_words(const Model& m, ProbeId probe, bool is, const std::string& had) {
    const Probe& p = m.circuit.probes[probe];
    const AnyId k = p.index;
    const auto between = [&](const std::string& name) {
        return EventWords{name + (is ? " is" : " is no longer") + " between its two positions",
                          is ? "it had not been there" : "it had stayed there"};
    };
    const auto bounces = [is](const std::string& name) {
        return EventWords{name + " is found " + (is ? "open" : "closed") + " as it bounces",
                          std::string("it had been found ") + (is ? "closed" : "open")};
    };
    const auto either = [is, &had](const std::string& name, const char* yes, const char* no) {
        return EventWords{name + " " + (is ? yes : no) + ", where it may or may not be", had + (is ? no : yes)};
    };
    switch (p.kind) {
        case ProbeKind::flight:
            return between(m.name_of(m.relays[k].contact));
        case ProbeKind::passage:
            return between(m.name_of(m.switches[k].position));
        case ProbeKind::bounce:
            return bounces(m.circuit.branches[k].name);
        case ProbeKind::chatter:
            return bounces(m.name_of(m.switches[k].position));
        case ProbeKind::reset:
            return {std::string("the controller ") + (is ? "is reset" : "runs again"),
                    is ? "it had not been" : "it had stayed without power"};
        case ProbeKind::load:
        case ProbeKind::coil:
        case ProbeKind::magneto:
            return {probe_name(m, probe) + (is ? " works" : " does not work") + ", where it may or may not",
                    is ? "it had not worked" : "it had worked"};
        case ProbeKind::input:
        case ProbeKind::node:
            return either(probe_name(m, probe), "on", "off");
        case ProbeKind::supply:
            return either("the controller's supply", "on", "off");
        case ProbeKind::field:
            return either("the excitation of " + m.circuit.sources[k].name, "on", "off");
    }
    return {};
}

const char* past_words(const Rational& limit, const Rational& x) { return x > limit ? "just above " : "just below "; }

}  // namespace

std::string text_of_part(const Model& m, const Run& run, const RunCause::Part& p) {
    return event_words(m, run, p).what + " at " + scan_time(m, shown_at(p.event));
}

EventWords event_words(const Model& m, const Run& run, const RunCause::Part& p) {
    const InputEvent& e = p.event;
    const SignalId id = signal_of(m, e);
    const std::string had = e.scan == 0 ? "it had been " : "it had stayed ";
    switch (e.kind) {
        case EventKind::position:
        case EventKind::free_load: {
            const bool on = std::get<bool>(p.instead);
            return {change_words(m, id, !on), had + off_or_on(m, e, p.instead)};
        }
        case EventKind::missed:
            return {"the change of " + m.name_of(id) + " is missed", "it had been seen"};
        case EventKind::quantity: {
            const auto& x = std::get<Rational>(p.instead);
            const bool held = e.scan > 0 && choices_at(run, e.scan - 1).quantities[e.index] == x;
            const std::string had_been = std::string("it had been ") + (p.just_past ? past_words(*p.just_past, x) : "");
            return {quantity_words(m, run, e),
                    (held ? "it had stayed at " : had_been) + number_text(m, id, p.just_past.value_or(x))};
        }
        case EventKind::reading:
            return {m.name_of(id) + " reads " + number_text(m, id, choices_at(run, e.scan).readings[e.index]),
                    "it had read the true value"};
        case EventKind::contact:
            return {m.name_of(id) + " is slow: still " + (std::get<bool>(p.instead) ? "dropped out" : "pulled in"),
                    "it had moved at once"};
        case EventKind::wiring:
            return answer_words(m, e.index, !std::get<bool>(p.instead), had);
        case EventKind::fault:
            return {fault_words(m, e.index), "it had not happened"};
        case EventKind::mode:
            if (e.scan > 0 && choices_at(run, e.scan).next_mode == choices_at(run, e.scan - 1).next_mode)
                return {"engine still " + std::string(mode_name(choices_at(run, e.scan).next_mode)),
                        "it had been " + std::string(mode_name(std::get<Mode>(p.instead)))};
            return {"engine " + std::string(mode_name(choices_at(run, e.scan).next_mode)),
                    "it had stayed " + std::string(mode_name(std::get<Mode>(p.instead)))};
    }
    return {};
}

std::string sentence_of(const Model& m, const Run& run, const Causes& causes, const RunCause& cause) {
    std::vector<std::string> what, instead;
    for (const auto& p : cause.parts) {
        what.push_back(text_of_part(m, run, p));
        instead.push_back(event_words(m, run, p).instead);
    }
    const bool two = cause.parts.size() > 1;
    // "it had stayed off": which of the two.
    for (std::size_t k = 0; two && k < instead.size(); ++k)
        instead[k].replace(0, 2, k == 0 ? "the first" : "the second");
    return joined(what, " and ") + ": " + (two ? "neither alone, but if " : "if ") + joined(instead, " and ") +
           (causes.of_trap ? ", the goal could still be reached" : ", the claim would not be violated");
}

SignalId signal_of(const Model& m, const InputEvent& e) {
    const AnyId k = e.index;
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
    return {};
}

long shown_at(const InputEvent& e) { return e.kind == EventKind::mode ? e.scan + 1 : e.scan; }

SignalId row_of(const Model& m, const InputEvent& e) {
    return e.kind == EventKind::wiring ? shown_by(m, m.circuit.probes[e.index]) : signal_of(m, e);
}

std::vector<CauseMark> cause_marks(const Model& m, const Run& run, const Causes& causes) {
    std::vector<CauseMark> out;
    for (const auto& cause : causes.list) {
        if (cause.presupposed) continue;
        for (const auto& part : cause.parts) {
            const InputEvent& e = part.event;
            const std::string sentence = sentence_of(m, run, causes, cause);
            const auto known = std::find_if(out.begin(), out.end(), [&](const CauseMark& c) { return c.event == e; });
            if (known != out.end()) {
                known->sentence += "; " + sentence;
                continue;
            }
            // A relay that is slow shows in nothing that changes.
            const SignalId shows = e.kind == EventKind::contact ? SignalId{} : signal_of(m, e);
            out.push_back({e, shown_at(e), shows, event_words(m, run, part).what, sentence});
        }
    }
    return out;
}

}  // namespace lanyard::report
