#include "sim/rule_words.hpp"

#include "lang/print.hpp"
#include "model/make_expr.hpp"
#include "sim/words.hpp"

namespace lanyard::sim {

namespace {

RuleWords line_words(const Model& m, const Quantity& q, std::size_t i) {
    const GuardedLine& line = q.lines[i];
    RuleWords out{"line " + std::to_string(i + 1) + " of its \"follows\": ", q.signal, nullptr};
    if (line.is_change)
        out.text += "changes " + difference_text(m, q.signal, line.band.lo) + " .. " +
                    difference_text(m, q.signal, line.band.hi) + " each second";
    else
        out.text += "within " + interval_text(m, q.signal, line.band);
    const std::string when = line.when ? text_of(m, *line.when) : "TRUE";
    if (when == "TRUE") return out;
    out.about = line.when;
    out.text += " when " + when;
    return out;
}

std::string band_words(const Model& m, SignalId id, const ModeBand& band, const std::string& in) {
    std::string out = "healthy" + in + ": " + interval_text(m, id, band.within);
    if (band.after && *band.after > 0)
        out += " (until " + print_time(*band.after) + ": " + interval_text(m, id, band.before) + ")";
    return out;
}

std::optional<RuleWords> of_quantity(const Model& m, const Quantity& q, const std::string& label) {
    const std::string& name = m.name_of(q.signal);
    if (label == "world: range of " + name)
        return RuleWords{"its range " + interval_text(m, q.signal, q.range), q.signal, nullptr};
    if (label == "world: " + name + " is 0 in stopped and above 0 elsewhere")
        return RuleWords{"0 in stopped and above 0 elsewhere", q.signal, nullptr, true};
    for (const Mode mode : all_modes) {
        const auto& band = q.healthy[ordinal(mode)];
        const std::string in = m.engine ? std::string(" in ") + mode_name(mode) : "";
        if (band && label == "healthy: " + name + in)
            return RuleWords{band_words(m, q.signal, *band, in), q.signal, nullptr, m.engine.has_value()};
    }
    for (std::size_t i = 0; i < q.lines.size(); ++i)
        for (const char* kind : {"world: ", "healthy: "})
            if (label == kind + name + " follows line " + std::to_string(i + 1)) return line_words(m, q, i);
    return std::nullopt;
}

std::optional<RuleWords> of_condition(const Model& m, const Condition& c, const std::string& label) {
    for (std::size_t i = 0; i < c.holds.size(); ++i) {
        const std::string which = c.holds.size() > 1 ? " " + std::to_string(i + 1) : "";
        if (label != "condition: " + c.name + which) continue;
        const std::string text = text_of(m, *c.holds[i]);
        return RuleWords{text + (c.name == text ? " (condition)" : " (condition " + c.name + ")"), {}, c.holds[i]};
    }
    for (const auto& [which, interval] : c.replaced) {
        const SignalId id = m.quantities[which].signal;
        if (label == "condition: " + m.name_of(id))
            return RuleWords{"the condition's " + interval_text(m, id, interval), id, nullptr};
    }
    return std::nullopt;
}

}  // namespace

std::optional<RuleWords> rule_words(const Model& m, const std::vector<const Condition*>& obeyed,
                                    const std::string& label) {
    std::optional<RuleWords> out;
    for (const Condition* c : obeyed)
        if (!out) out = of_condition(m, *c, label);
    for (const Quantity& q : m.quantities)
        if (!out) out = of_quantity(m, q, label);
    if (out && out->quantity) out->text = m.name_of(out->quantity) + ", " + out->text;
    return out;
}

}  // namespace lanyard::sim
