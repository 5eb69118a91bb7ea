// What the engine section gives to quantities, once it is known which of them the model speaks of: common practice
// for healthy values, and the tie between speed and mode.
#include <algorithm>

#include "model/build.hpp"

namespace lanyard::model {

namespace {

std::optional<Interval> clipped(const Interval& i, const Interval& range) {
    const Interval c{std::max(i.lo, range.lo), std::min(i.hi, range.hi)};
    if (c.lo > c.hi) return std::nullopt;
    return c;
}

void give_default_bands(Build& b, const StandardQuantity& standard, Quantity& q) {
    const Signal& s = b.model.signal(q.signal);
    for (const Mode mode : all_modes) {
        auto band = healthy_of(standard, mode, s.unit);
        if (!band) continue;
        const auto within = clipped(band->within, q.range);
        if (!within) {
            b.reading.error("default-outside-range", s.pointer, s.place,
                            "common practice for " + standard.name + " in a " + mode_name(mode) + " engine is " +
                                interval_text(band->within, *s.unit) + ", outside the range " +
                                interval_text(q.range, *s.unit) + " of `" + s.name + "`",
                            "a healthy engine of this model could never be " + std::string(mode_name(mode)),
                            "give its healthy values");
            return;
        }
        band->within = *within;
        band->before = clipped(band->before, q.range).value_or(q.range);
        q.healthy.at(ordinal(mode)) = band;
    }
}

// Speed is 0 in stopped and above 0 elsewhere; values that exclude that would leave no engine at all.
void check_tie(Build& b, const Quantity& q) {
    const Signal& s = b.model.signal(q.signal);
    const auto report = [&](Place place, const std::string& what) {
        b.reading.error("speed-tie", s.pointer, place.line == 0 ? s.place : place, what,
                        "the engine's speed is 0 while it is stopped and above 0 in every other mode");
    };
    if (q.range.lo > 0 || q.range.hi <= 0)
        report({}, "the range of `" + s.name + "` must contain 0 and speeds above 0");
    for (const Mode mode : all_modes) {
        const auto& band = q.healthy.at(ordinal(mode));
        if (!band || q.range.lo > 0 || q.range.hi <= 0) continue;
        const bool stopped = mode == Mode::stopped;
        const auto fits = [&](const Interval& i) { return stopped ? i.lo <= 0 && i.hi >= 0 : i.hi > 0; };
        if (fits(band->within) && (!band->after || fits(band->before))) continue;
        report(band->place, std::string("no healthy speed is left for the mode ") + mode_name(mode));
    }
}

}  // namespace

void finish_engine(Build& b) {
    if (!b.model.engine) return;
    for (const auto& standard : standard_quantities()) {
        const auto role = b.roles.find(standard.role);
        if (role == b.roles.end()) continue;
        const auto named = b.names.find(role->second);
        if (named == b.names.end() || named->second.thing != Thing::quantity || named->second.broken) continue;
        const QuantityId index = named->second.index;
        Quantity& q = b.model.quantities[index];
        if (b.model.signal(q.signal).type.dimension != dimension_of(standard)) continue;
        const bool is_speed = standard.role == "speed";
        if (is_speed) b.model.engine->speed = index;
        if (!b.has_healthy[index] && !(is_speed && q.range.lo > 0)) give_default_bands(b, standard, q);
        if (is_speed) check_tie(b, q);
    }
}

}  // namespace lanyard::model
