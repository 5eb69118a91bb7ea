#include "sim/script_names.hpp"

#include <algorithm>

#include "base/suggest.hpp"

namespace lanyard::sim {

namespace {

bool is_settable(const Model& m, const Signal& s) {
    if (s.kind == SignalKind::load) return m.loads[s.index].is_free();
    return s.kind == SignalKind::position || s.kind == SignalKind::quantity || s.kind == SignalKind::reading ||
           s.kind == SignalKind::fault || s.kind == SignalKind::mode;
}

std::string why_not_settable(const Signal& s) {
    switch (s.kind) {
        case SignalKind::logic:
        case SignalKind::output:
            return "the controller decides it";
        case SignalKind::contact:
            return "a relay's contact follows its coil";
        case SignalKind::load:
            return "it has power when its feed has";
        case SignalKind::loop:
            return "a loop-back follows its output";
        case SignalKind::powered:
            return "the controller's power follows from its supply";
        case SignalKind::wired:
        case SignalKind::node:
            return "it follows from the wiring";
        case SignalKind::quantity:
        case SignalKind::position:
        case SignalKind::seen:
        case SignalKind::reading:
        case SignalKind::fault:
        case SignalKind::mode:
            break;
    }
    return {};
}

const char* hint_for_names =
    "a script sets switches, quantities, readings, loads that nothing feeds, faults, and engine";

bool is_plain_number(const std::string& text) { return parse_decimal(text).has_value(); }

}  // namespace

std::optional<SignalId> settable(const ScriptReading& r, const LocatedText& name) {
    const Model& m = r.model;
    std::vector<std::string> names;
    const Signal* other = nullptr;
    for (const SignalId k : m.signals.ids()) {
        const Signal& s = m.signals[k];
        if (is_settable(m, s) && s.name == name.text) return k;
        if (is_settable(m, s)) names.push_back(s.name);
        if (s.name == name.text && !other) other = &s;
    }
    for (const auto& f : m.faults) names.push_back(f.name);
    if (other) {
        r.error("script-name", name, "`" + name.text + "` cannot be set by a script", why_not_settable(*other),
                hint_for_names);
        return {};
    }
    const auto near = nearest(name.text, names);
    r.error("script-name", name, "the model has nothing called `" + name.text + "`", "",
            near ? "did you mean `" + *near + "`?" : hint_for_names);
    return {};
}

std::optional<Value> setting_value(const ScriptReading& r, SignalId id, const LocatedText& text,
                                   const std::string& unit) {
    const Signal& s = r.model.signal(id);
    if (s.type.kind == TypeKind::number) {
        LocatedText number = text;
        if (!unit.empty() && is_plain_number(text.text)) number.text += ' ' + unit;
        const auto value = compile_number(number, s.type.dimension, s.type.difference, s.name, r.out);
        return value ? std::optional<Value>(value->si) : std::nullopt;
    }
    if (s.type.kind == TypeKind::mode) {
        for (const Mode mode : all_modes) {
            if (text.text == mode_name(mode)) return mode;
        }
        r.error("script-value", text, "`" + text.text + "` is not an engine mode", "",
                "stopped, cranking, running or coasting");
        return {};
    }
    for (const char* on : {"on", "true", "TRUE", "1"}) {
        if (text.text == on) return true;
    }
    for (const char* off : {"off", "false", "FALSE", "0"}) {
        if (text.text == off) return false;
    }
    r.error("script-value", text, "`" + text.text + "` is not a position of `" + s.name + "`", "", "on or off");
    return {};
}

std::optional<Rational> script_time(const ScriptReading& r, const LocatedText& text, const std::string& what_for) {
    const auto value = compile_number(text, Dimension{{0, 0, 1, 0, 0, 0, 0}}, true, what_for, r.out);
    if (!value) return {};
    if (sgn(value->si) < 0) {
        r.error("script-time", text, what_for + " is before the run begins", "a run begins at 0 s");
        return {};
    }
    if (value->si > longest_script * r.model.scan) {
        r.error("script-too-long", text,
                what_for + " is more than " + std::to_string(longest_script) + " scans after the beginning",
                "a script's run is kept in memory as a whole", "the scan period is " + exact_text(r.model.scan) + " s");
        return {};
    }
    return value->si;
}

std::optional<Script> gather(const ScriptReading& r, const std::vector<TimedSetting>& settings, const Rational& until) {
    Script script;
    script.scans = std::max(1L, scans_up(until, r.model.scan));
    std::map<long, std::vector<ScriptSetting>> by_scan;
    bool right = true;
    for (const auto& s : settings) {
        const long scan = scans_up(s.at, r.model.scan);
        if (scan >= script.scans) {
            r.out.add({"script-time", Severity::error, s.setting.pointer, s.setting.place,
                       "this change comes at " + exact_text(s.at) + " s, after the end of the run",
                       "the run ends at " + exact_text(until) + " s", "make it end later"});
            right = false;
        }
        by_scan[scan].push_back(s.setting);
    }
    for (auto& [scan, list] : by_scan) script.changes.push_back({scan, std::move(list)});
    return right ? std::optional(std::move(script)) : std::nullopt;
}

}  // namespace lanyard::sim
