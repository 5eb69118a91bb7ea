#include "report/why.hpp"

#include <algorithm>
#include <set>

#include "report/explainer.hpp"
#include "report/layout.hpp"
#include "report/words.hpp"

namespace lanyard::report {

namespace {

constexpr std::size_t why_column = 14;

// Of what holds together the last to come about made the difference. Where logic is left - on a way of power, among the
// loads of an engine - the walk has not looked for it.
void keep_latest(std::vector<Reason>& list) {
    long latest = -1;
    for (const auto& r : list) latest = std::max(latest, r.scan);
    std::erase_if(list, [latest](const Reason& r) { return r.scan >= 0 && r.scan < latest; });
    for (auto& r : list) keep_latest(r.because);
}

// What is explained is no end, nor where it is only named again.
void collect_explained(const std::vector<Reason>& list, std::set<std::string>& out) {
    for (const auto& r : list) {
        if (!r.because.empty()) out.insert(r.text);
        collect_explained(r.because, out);
    }
}

void ends_of(const std::vector<Reason>& list, long scan, const std::set<std::string>& explained,
             std::vector<FirstOut>& out) {
    const bool dated = std::any_of(list.begin(), list.end(), [](const Reason& r) { return r.scan >= 0; });
    for (const auto& r : list) {
        const long here = r.scan < 0 ? scan : r.scan;
        const FirstOut end{here, r.text};
        if (!r.because.empty())
            ends_of(r.because, here, explained, out);
        else if ((r.scan >= 0 || !dated) && !explained.contains(r.text) &&
                 std::find(out.begin(), out.end(), end) == out.end())
            out.push_back(end);
    }
}

std::string because_label(const Model& m, const Why& w) {
    const Signal& s = m.signal(w.signal);
    if (s.type.kind != TypeKind::boolean || s.kind == SignalKind::fault) return "because";
    return w.is_off ? "held off by" : "held on by";
}

// What nothing in the model decides.
std::string who_decides(SignalKind kind) {
    if (kind == SignalKind::position) return "whoever operates it";
    if (kind == SignalKind::quantity || kind == SignalKind::fault) return "the world";
    return "";
}

}  // namespace

Json reasons_json(const Model& m, const std::vector<Reason>& reasons) {
    Json out = Json::array();
    for (const auto& r : reasons) {
        Json one = {{"text", r.text}};
        if (r.scan >= 0) one["since_s"] = exact_text(Rational(m.scan * r.scan));
        if (!r.because.empty()) one["because"] = reasons_json(m, r.because);
        out.push_back(one);
    }
    return out;
}

Why why(const Film& film, SignalId signal, const std::string& name) {
    const Model& m = film.model();
    Why out;
    out.signal = signal;
    out.name = name;
    out.scan = film.end().scan;
    out.state = state_words(m, signal, film.end().signals[signal]);
    const auto* on = std::get_if<bool>(&film.end().signals[signal]);
    out.is_off = on != nullptr && !*on;
    out.because = Explainer(film, out.scan).signal(signal, out.scan).because;
    if (m.signal(signal).type.kind == TypeKind::number) return out;
    out.since = film.since(signal, out.scan);
    if (out.since == 0) return out;
    out.change = {Explainer(film, out.scan, true).signal(signal, out.scan)};
    if (out.change.front().because.empty()) return out;
    keep_latest(out.change);
    std::set<std::string> explained;
    collect_explained(out.change, explained);
    ends_of(out.change, out.since, explained, out.first);
    // What takes the controller's power and a load's at once is told of the load alone.
    const std::string dead = state_words(m, m.powered, Value(false));
    if (out.first.size() > 1) std::erase_if(out.first, [&dead](const FirstOut& f) { return f.text.starts_with(dead); });
    std::stable_sort(out.first.begin(), out.first.end(),
                     [](const FirstOut& a, const FirstOut& b) { return a.scan < b.scan; });
    return out;
}

std::string why_text(const Model& m, const Why& w) {
    std::string out = w.state + " at " + scan_time(m, w.scan) + " (scan " + std::to_string(w.scan) + ")";
    if (w.since > 0) out += ", since " + scan_time(m, w.since);
    if (w.since == 0) out += ", since the run began";
    out += '\n';
    const std::string decides = who_decides(m.signal(w.signal).kind);
    if (!w.because.empty())
        out += reasons_text(w.because, because_label(m, w), why_column);
    else if (!decides.empty())
        out += labelled("moved by", why_column, decides);
    if (w.change.empty() || w.change.front().because.empty()) return out;
    out += reasons_text(w.change, "came about", why_column);
    // First out is the alarm of a group that came first; what brings something on is none.
    const std::string first = w.is_off ? "first out" : "began with";
    std::string label = first;
    for (const auto& f : w.first) {
        const bool same = label != first && f.scan == w.first.front().scan;
        out += labelled(same ? "" : label, why_column,
                        scan_time(m, f.scan) + "  " + f.text + (same ? ", in the same scan" : ""));
        if (!same) label = label == first ? "then" : "";
    }
    return out;
}

Json why_json(const Model& m, const Why& w) {
    const auto seconds = [&m](long scan) { return exact_text(Rational(m.scan * scan)); };
    Json out = {{"signal", w.name}, {"time_s", seconds(w.scan)}, {"scan", w.scan}, {"state", w.state}};
    if (w.since >= 0) out["since_s"] = seconds(w.since);
    out["because"] = reasons_json(m, w.because);
    if (!w.change.empty()) out["came_about"] = reasons_json(m, w.change);
    out["first_out"] = Json::array();
    for (const auto& f : w.first) out["first_out"].push_back({{"time_s", seconds(f.scan)}, {"text", f.text}});
    return out;
}

}  // namespace lanyard::report
