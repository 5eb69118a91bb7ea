#include "sim/limits.hpp"

#include <algorithm>

#include "sim/words.hpp"

namespace lanyard::sim {

bool Limit::allows(const Rational& x) const {
    if (above_zero) return sgn(x) > 0;
    if (!from) return band->lo <= x && x <= band->hi;
    const Rational change = x - *from;
    return (band->lo <= change || x == ends->hi) && (change <= band->hi || x == ends->lo);
}

QuantityRules::QuantityRules(const Model& model, const Condition& condition, QuantityId quantity, Program& guards) {
    const Quantity& q = model.quantities[quantity];
    range_ = &q.range;
    tied_ = model.engine && model.engine->speed == quantity;
    for (const auto& [which, interval] : condition.replaced) {
        if (which == quantity) replaced_ = &interval;
    }
    for (std::size_t m = 0; m < q.healthy.size(); ++m) {
        if (!condition.healthy || replaced_ || !q.healthy[m]) continue;
        bands_[m].band = &*q.healthy[m];
        if (q.healthy[m]->after) bands_[m].after = scans_up(*q.healthy[m]->after, model.scan);
    }
    for (const auto& line : q.lines) {
        if (line.healthy_only && !condition.healthy) continue;
        Line l;
        l.line = &line;
        if (line.when) l.guard = guards.add(line.when);
        l.step = {line.band.lo * model.scan, line.band.hi * model.scan};
        lines_.push_back(std::move(l));
    }
}

bool QuantityRules::needs_last() const {
    return std::any_of(lines_.begin(), lines_.end(), [](const Line& l) { return l.line->is_change; });
}

long QuantityRules::cap(bool turning) const {
    long most = 0;
    for (const Mode m : all_modes) {
        if (turns_by_itself(m) == turning) most = std::max(most, bands_[ordinal(m)].after);
    }
    return most;
}

long QuantityRules::firing_cap() const { return cap(true); }
long QuantityRules::turned_cap() const { return cap(false); }

Limit QuantityRules::tie(Mode mode) const {
    static const Interval zero{0, 0};
    if (mode == Mode::stopped) return {LimitRule::tie, &zero, nullptr, false};
    return {LimitRule::tie, nullptr, nullptr, true};
}

Limit QuantityRules::band(const EngineState& engine) const {
    if (replaced_) return {LimitRule::replaced, replaced_, nullptr, false};
    const Band& b = bands_[ordinal(engine.mode)];
    if (!b.band) return {};
    const long clock = turns_by_itself(engine.mode) ? engine.since_firing : engine.since_turned;
    const Interval* now = b.band->after && clock < b.after ? &b.band->before : &b.band->within;
    return {LimitRule::healthy, now, nullptr, false};
}

std::string broken_text(const Model& model, QuantityId quantity, const Rational& value, const Limit& limit, Mode mode) {
    const SignalId id = model.quantities[quantity].signal;
    const std::string name = model.name_of(id);
    const std::string is = name + " is " + value_text(model, id, value);
    const std::string in = std::string(" while the engine is ") + mode_name(mode);
    switch (limit.rule) {
        case LimitRule::range:
            return "range: " + is + ", its range is " + interval_text(model, id, *limit.band);
        case LimitRule::tie:
            return "speed and mode: " + is + in + ", it must be " + (limit.above_zero ? "above 0" : "0");
        case LimitRule::healthy:
            return "healthy: " + is + (model.engine ? in : "") + ", healthy is " +
                   interval_text(model, id, *limit.band);
        case LimitRule::replaced:
            return "condition: " + is + ", the condition requires " + interval_text(model, id, *limit.band);
        case LimitRule::line:
            return "guarded line: " + is + ", one of its lines requires " + interval_text(model, id, *limit.band);
        case LimitRule::playbook:
            return "playbook: " + is + ", this step requires " + interval_text(model, id, *limit.band);
        case LimitRule::change:
            return "guarded line: " + name + " changes from " + value_text(model, id, *limit.from) + " to " +
                   value_text(model, id, value) + " in one scan, one of its lines allows " +
                   difference_text(model, id, limit.band->lo) + " .. " + difference_text(model, id, limit.band->hi);
    }
    return {};
}

}  // namespace lanyard::sim
