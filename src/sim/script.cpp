#include "sim/script.hpp"

#include <algorithm>

#include "model/faults.hpp"
#include "sim/script_names.hpp"
#include "sim/words.hpp"
#include "sim/world.hpp"

namespace lanyard::sim {

namespace {

// Faults of the model that nothing speaks of have no signal; those that stand in the text get one.
std::shared_ptr<const Model> breakable(const Model& m, const std::string& text) {
    auto out = std::make_shared<Model>(m);
    Condition& any = out->conditions.front();
    for (const FaultId f : m.faults.ids()) {
        if (text.find(m.faults[f].name) == std::string::npos) continue;
        use_fault(*out, f);
        any.faults.push_back(f);
        ++any.at_most;
    }
    return out;
}

}  // namespace

ScriptResult read_script(const Model& model, const std::string& shown_name, const std::string& text) {
    ScriptResult result;
    result.source = SourceText(shown_name, text);
    result.model = breakable(model, text);
    const ScriptReading reading{*result.model, result.source, result.diagnostics};
    const auto first = text.find_first_not_of(" \t\r\n\xEF\xBB\xBF");  // a byte order mark may be in front
    const bool json = first != std::string::npos && text[first] == '{';
    result.script = json ? read_json_script(reading) : read_csv_script(reading);
    if (result.diagnostics.has_errors()) result.script.reset();
    result.diagnostics.sort_by_place();
    return result;
}

namespace {

class Player {
 public:
    Player(const Model& model, ConditionId condition, ClaimId claim)
        : m_(model),
          world_(model, condition, claim),
          now_(std::make_unique<Interpreter>(model, condition, claim)),
          wish_(model) {}

    ScriptRun play(const Script& script) {
        std::size_t next = 0;
        for (scan_ = 0; scan_ < script.scans; ++scan_) {
            if (next < script.changes.size() && script.changes[next].scan == scan_) take(script.changes[next++]);
            if (!go_on()) break;
        }
        for (const auto& a : active_) complain_of_engine(a);
        for (const SignalId k : m_.signals.ids()) {
            const auto differs = [&](const Scan& s) { return s.signals[k] != out_.scans.front().signals[k]; };
            if (std::any_of(out_.scans.begin(), out_.scans.end(), differs)) out_.changed.push_back(k);
        }
        return std::move(out_);
    }

 private:
    // A setting that no later one has replaced.
    struct Active {
        ScriptSetting setting;
        bool reported = false;
        bool reached = false;  // the engine's mode
    };

    void take(const ScriptChange& change) {
        for (const auto& s : change.settings) {
            const auto same = [&](const Active& a) { return a.setting.signal == s.signal; };
            const auto old = std::find_if(active_.begin(), active_.end(), same);
            if (old != active_.end()) {
                complain_of_engine(*old);
                active_.erase(old);
            }
            active_.push_back({s, false, false});
            wish(s);
        }
    }

    void wish(const ScriptSetting& s) {
        const Signal& signal = m_.signal(s.signal);
        const AnyId k = signal.index;
        if (signal.kind == SignalKind::position) wish_.positions[k] = std::get<bool>(s.value);
        if (signal.kind == SignalKind::load) wish_.free_loads[k] = std::get<bool>(s.value);
        if (signal.kind == SignalKind::quantity) wish_.quantities[k] = std::get<Rational>(s.value);
        if (signal.kind == SignalKind::reading) wish_.readings[k] = std::get<Rational>(s.value);
        if (signal.kind == SignalKind::fault) wish_.faults[k] = std::get<bool>(s.value);
        if (signal.kind == SignalKind::mode) wish_.engine = std::get<Mode>(s.value);
    }

    bool go_on() {
        Proposal p = world_.propose(*now_, wish_);
        if (!p.choices) {
            warn("script-stuck", active_.empty() ? ScriptSetting{} : active_.back().setting,
                 "the run ends at " + time() + ": no legal scan follows", p.why_not);
            return false;
        }
        append(out_.run, *p.choices);
        out_.scans.push_back(std::move(p.scan));
        now_ = std::move(p.after);
        for (auto& a : active_) compare(a);
        return true;
    }

    void compare(Active& a) {
        const Value& is = out_.scans.back().signals[a.setting.signal];
        if (is == a.setting.value) {
            a.reached = true;
            return;
        }
        if (a.reported || m_.signal(a.setting.signal).kind == SignalKind::mode) return;
        a.reported = true;
        const std::string& name = m_.name_of(a.setting.signal);
        warn("script-not-met", a.setting,
             name + " cannot be " + value_text(m_, a.setting.signal, a.setting.value) + " at " + time() + "; it is " +
                 value_text(m_, a.setting.signal, is),
             "the rules of the world and the condition come first");
    }

    // The way to a mode takes time, so it is judged when the wish ends.
    void complain_of_engine(const Active& a) {
        if (m_.signal(a.setting.signal).kind != SignalKind::mode || a.reached) return;
        warn("script-not-met", a.setting,
             std::string("the engine was never ") + mode_name(std::get<Mode>(a.setting.value)) + " until " + time(),
             "its loads, its starter and its times did not allow it");
    }

    void warn(const std::string& code, const ScriptSetting& s, const std::string& what, const std::string& why) {
        out_.diagnostics.add({code, Severity::warning, s.pointer, s.place, what, why, ""});
    }

    std::string time() const { return exact_text(scan_ * m_.scan) + " s"; }

    const Model& m_;
    World world_;
    std::unique_ptr<Interpreter> now_;
    Wish wish_;
    std::vector<Active> active_;
    long scan_ = 0;
    ScriptRun out_;
};

}  // namespace

ScriptRun play_script(const Model& model, const Script& script, ConditionId condition, ClaimId claim) {
    return Player(model, condition, claim).play(script);
}

}  // namespace lanyard::sim
