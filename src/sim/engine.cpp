#include "sim/engine.hpp"

#include <algorithm>

#include "lang/print.hpp"

namespace lanyard::sim {

namespace {

Modes from_stopped(const EngineRules& r, const EngineFeels& f) {
    Modes m{};
    m[ordinal(Mode::cranking)] = f.starter || !r.engine->cranks_with || r.engine->push_start;
    m[ordinal(Mode::stopped)] = !(r.healthy && f.starter);
    return m;
}

Modes from_cranking(const EngineState& s, const EngineRules& r, const EngineFeels& f) {
    Modes m{};
    const bool due = s.fuelled >= 1 && s.fuelled >= r.fire_must;
    m[ordinal(Mode::running)] = s.fuelled >= 1 && s.fuelled >= r.fire_may;
    if (r.healthy && due) return m;
    const bool free = !f.starter && (!r.engine->cranks_with || r.engine->push_start);
    m[ordinal(Mode::cranking)] = f.starter || free;
    m[ordinal(Mode::stopped)] = !f.starter;
    return m;
}

Modes from_running(const EngineState& s, const EngineRules& r) {
    Modes m{};
    const bool must = s.lost >= r.run_on_must;
    m[ordinal(Mode::running)] = !must;
    m[ordinal(Mode::coasting)] = must || !r.healthy || s.lost >= r.run_on_may;
    return m;
}

Modes from_coasting(const EngineState& s, const EngineRules& r, const EngineFeels& f) {
    Modes m{};
    m[ordinal(Mode::stopped)] = !r.healthy || s.coasting >= r.coast_may;
    m[ordinal(Mode::running)] = f.loads && f.fast;
    m[ordinal(Mode::cranking)] = f.starter || !r.engine->cranks_with;
    m[ordinal(Mode::coasting)] = !r.healthy || s.coasting < r.coast_must;
    return m;
}

std::string in_words(long scans, const Rational& scan) { return print_time(Rational(scans * scan)); }

std::string in_words(const Interval& i) { return print_time(i.lo) + " .. " + print_time(i.hi); }

// The rule of the mode that the engine is in.
std::string rule_of(const EngineState& s, const EngineRules& r, const EngineFeels& f) {
    const Engine& e = *r.engine;
    switch (s.mode) {
        case Mode::stopped:
            return f.starter ? "its starter has power" : "its starter has no power";
        case Mode::cranking:
            return "all loads that it fires with have had power for " + in_words(s.fuelled, r.scan) +
                   " of cranking, it fires after " + in_words(e.firing_time) + ", its starter has " +
                   (f.starter ? "power" : "no power");
        case Mode::running:
            if (f.loads) return "no load that it fires with is lost";
            return "a load that it fires with has been lost for " + in_words(s.lost, r.scan) + ", it runs on for " +
                   in_words(e.run_on);
        case Mode::coasting:
            return "it has been coasting for " + in_words(s.coasting, r.scan) + " of " + in_words(e.coast_down) +
                   ", the loads that it fires with are " + (f.loads ? "there" : "not all there") +
                   (f.fast ? "" : ", it turns too slowly to catch");
    }
    return {};
}

}  // namespace

EngineRules::EngineRules(const Model& model, bool healthy_, bool counts_)
    : engine(model.engine ? &*model.engine : nullptr), scan(model.scan), healthy(healthy_), counts(counts_) {
    if (!engine) return;
    const Rational& p = model.scan;
    fire_may = scans_up(engine->firing_time.lo, p);
    fire_must = scans_up(engine->firing_time.hi, p);
    coast_may = scans_up(engine->coast_down.lo, p);
    coast_must = scans_up(engine->coast_down.hi, p);
    run_on_may = std::max(1L, scans_up(engine->run_on.lo, p));
    run_on_must = std::max(1L, scans_up(engine->run_on.hi, p));
}

EngineState stopped_for_long(const EngineRules& r) {
    EngineState s;
    s.since_turned = r.turned_cap;
    return s;
}

void count_scan(EngineState& s, const EngineRules& r, const EngineFeels& f) {
    const bool fuelled = s.mode == Mode::cranking && f.loads;
    const bool lost = s.mode == Mode::running && !f.loads;
    const long fuelled_cap = std::max({1L, r.fire_may, r.counts ? r.fire_must : 0L});
    const long coasting_cap = r.counts ? std::max(r.coast_may, r.coast_must) : 0L;
    s.fuelled = fuelled ? std::min(s.fuelled + 1, fuelled_cap) : 0;
    s.lost = lost ? std::min(s.lost + 1, std::max(r.run_on_may, r.run_on_must)) : 0;
    s.coasting = s.mode == Mode::coasting ? std::min(s.coasting + 1, coasting_cap) : 0;
}

Modes next_modes(const EngineState& s, const EngineRules& r, const EngineFeels& f) {
    switch (s.mode) {
        case Mode::stopped:
            return from_stopped(r, f);
        case Mode::cranking:
            return from_cranking(s, r, f);
        case Mode::running:
            return from_running(s, r);
        case Mode::coasting:
            return from_coasting(s, r, f);
    }
    return {};
}

void go_to(EngineState& s, const EngineRules& r, Mode next) {
    const bool fires = s.mode == Mode::cranking && next == Mode::running;
    const bool turned = turns_by_itself(s.mode);
    // Coasting -> running is no new start: the clock goes on.
    s.since_firing = turns_by_itself(next) && !fires ? std::min(s.since_firing + 1, r.firing_cap) : 0;
    s.since_turned = turns_by_itself(next) ? 0 : std::min((turned ? 0 : s.since_turned) + 1, r.turned_cap);
    if (next != s.mode) s.fuelled = s.lost = s.coasting = 0;
    s.mode = next;
}

std::string why_not(const EngineState& s, const EngineRules& r, const EngineFeels& f, Mode next) {
    const Modes may = next_modes(s, r, f);
    std::string list;
    for (const Mode m : all_modes) {
        if (may[ordinal(m)]) list += (list.empty() ? "" : " or ") + std::string(mode_name(m));
    }
    const std::string goes = next == s.mode
                                 ? std::string("it stays ") + mode_name(next)
                                 : std::string("it goes from ") + mode_name(s.mode) + " to " + mode_name(next);
    return "engine: " + goes + ", where only " + list + " can follow: " + rule_of(s, r, f);
}

}  // namespace lanyard::sim
