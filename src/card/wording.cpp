#include "card/wording.hpp"

#include "sim/words.hpp"

namespace lanyard::card {

namespace {

std::string plug_words(bool unplugged, bool on) {
    if (unplugged) return on ? "plug off" : "plug on again";
    return on ? "fed by hand" : "no longer fed";
}

std::string terminal_of_input(const Model& m, const BenchInput& in) {
    const Signal& s = m.signal(in.of);
    const AnyId k = s.index;
    if (s.kind == SignalKind::position) return m.switches[k].terminal;
    if (s.kind == SignalKind::reading) return m.sensors[k].terminal;
    if (s.kind == SignalKind::loop) return m.loops[k].terminal;
    if (s.kind == SignalKind::wired) return m.wired_inputs[k].terminal;
    return "";
}

}  // namespace

CardSetting setting_words(const Points& points, const BenchInput& in, const Settings& set) {
    const Model& m = points.bench.model;
    const AnyId k = in.index;
    CardSetting out{m.name_of(in.of), terminal_of_input(m, in), ""};
    if (in.is_number())
        out.to = sim::value_text(m, in.of, set.quantities[k]);
    else if (in.kind != InputKind::hand_switch)
        out.to = plug_words(in.kind == InputKind::unplugged, set.positions[k]);
    else if (m.switches[k].momentary)
        out.to = set.positions[k] ? "press and hold" : "release";
    else
        out.to = set.positions[k] ? "on" : "off";
    return out;
}

std::vector<CardSetting> settings_words(const Points& points, const Settings* before, const Settings& set) {
    std::vector<CardSetting> out;
    for (const auto& in : points.bench.inputs) {
        const AnyId k = in.index;
        const bool same = before && (in.is_number() ? before->quantities[k] == set.quantities[k]
                                                    : before->positions[k] == set.positions[k]);
        const bool is_plug = in.kind == InputKind::unplugged || in.kind == InputKind::fed;
        if (same || (!before && is_plug)) continue;
        out.push_back(setting_words(points, in, set));
    }
    return out;
}

std::vector<CardSetting> held_words(const Points& points, const Settings& before, const Settings& set) {
    std::vector<CardSetting> out;
    for (const auto& in : points.bench.inputs) {
        const AnyId k = in.index;
        if (in.is_number() || !before.positions[k] || !set.positions[k] || in.rests_on) continue;
        const bool is_switch = in.kind == InputKind::hand_switch;
        if (is_switch && !points.bench.model.switches[k].momentary) continue;
        CardSetting words = setting_words(points, in, set);
        if (is_switch) words.to = "held";
        out.push_back(words);
    }
    return out;
}

std::string decision_name(const Points& points, const Decision& d) {
    const std::string& owner = points.bench.model.name_of(d.owner);
    return d.role.empty() ? owner : owner + ", " + d.role;
}

std::string conditions_words(const Points& points, const Decision& d, Combination v, Combination matters) {
    std::string out;
    for (std::size_t c = 0; c < d.conditions.size(); ++c) {
        if ((matters >> c & 1U) == 0) continue;
        out += (out.empty() ? "" : ", ") + points.text_of(d.conditions[c]) + ((v >> c & 1U) ? " on" : " off");
    }
    return out;
}

std::string goal_name(const Points& points, const Goal& g) {
    if (g.kind != GoalKind::combination) return points.bench.model.name_of(owner_of(points, g));
    return decision_name(points, points.decisions[g.item]);
}

namespace {

std::string memory_words(const Points& points, const Goal& g) {
    const Memory& e = points.memories[g.item];
    const std::string name = e.value == e.owner ? "" : e.text + ": ";
    if (g.kind == GoalKind::holds) return name + "stays on by itself";
    if (g.kind == GoalKind::resets) return name + "is reset";
    if (g.kind == GoalKind::forgets) return name + "is off after a loss of power";
    if (g.kind == GoalKind::keeps) return name + "stays on through a loss of power";
    return name + seconds_words(e.is->value) + " run out";
}

std::string level_words(const Points& points, const Goal& g) {
    const Comparison& c = points.comparisons[g.item];
    const SignalId sensor = points.bench.inputs[c.input].of;
    return c.text + (g.kind == GoalKind::level ? " at " : " back at ") +
           sim::value_text(points.bench.model, sensor, g.at) + " is " + (g.expected ? "on" : "off");
}

}  // namespace

std::string goal_words(const Points& points, const Goal& g, bool with_name) {
    std::string name = with_name ? goal_name(points, g) : "";
    if (g.kind == GoalKind::combination) {
        const Decision& d = points.decisions[g.item];
        const TruthTable table(d.formula, d.conditions);
        return name + (with_name ? " " : "") + (table(g.combination) ? "on" : "off") + " with " +
               conditions_words(points, d, g.combination, ~0U) + (g.passing ? ", in passing" : "");
    }
    if (with_name) name += ": ";
    return name + (is_of_comparison(g.kind) ? level_words(points, g) : memory_words(points, g));
}

SignalId owner_of(const Points& points, const Goal& g) {
    if (g.kind == GoalKind::combination) return points.decisions[g.item].owner;
    if (is_of_comparison(g.kind)) return points.comparisons[g.item].owner;
    return points.memories[g.item].owner;
}

std::string terminal_of(const Model& m, SignalId look) {
    const Signal& s = m.signal(look);
    return s.kind == SignalKind::output ? m.outputs[s.index].terminal : "";
}

std::string seconds_words(const Rational& seconds) { return rounded_text(seconds, 3) + " s"; }

}  // namespace lanyard::card
