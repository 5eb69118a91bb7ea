#include "report/unmeasured.hpp"

#include <algorithm>
#include <set>

#include "report/words.hpp"

namespace lanyard::report {

namespace {

std::set<Mode> visited_modes(const Film& film) {
    const Model& m = film.model();
    if (!m.mode) return {Mode::stopped};
    std::set<Mode> out;
    for (const auto& f : film.frames()) out.insert(std::get<Mode>(f.signals[m.mode]));
    return out;
}

// "oil_pressure 0 .. 2 psi stopped, 25 .. 75 psi running"; equal modes are told once.
std::string bands(const Model& m, QuantityId index, const std::set<Mode>& modes) {
    const Quantity& q = m.quantities[index];
    std::vector<std::pair<std::string, std::string>> told;  // band, modes
    for (const Mode mode : modes) {
        const auto& band = q.healthy[ordinal(mode)];
        const bool standing = mode == Mode::stopped && m.engine && m.engine->speed == index;
        if (!band || !band->is_default || standing) continue;
        const std::string text = band_text(m, q.signal, *band);
        const auto same = std::find_if(told.begin(), told.end(), [&](const auto& t) { return t.first == text; });
        if (same == told.end())
            told.emplace_back(text, mode_name(mode));
        else
            same->second += std::string(", ") + mode_name(mode);
    }
    if (told.size() == 1 && told[0].second.find(',') != std::string::npos)
        return m.name_of(q.signal) + " " + told[0].first;
    std::vector<std::string> parts;
    for (const auto& [text, of] : told) parts.push_back(of + " " + text);
    return parts.empty() ? "" : m.name_of(q.signal) + " " + joined(parts, ", ");
}

std::set<QuantityId> quantities_of(const Model& m, const std::set<SignalId>& signals) {
    std::set<QuantityId> out;
    for (const SignalId id : signals) {
        const Signal& s = m.signal(id);
        if (s.kind == SignalKind::quantity) out.insert(s.index.to<Quantity>());
        if (s.kind == SignalKind::reading) out.insert(m.sensors[s.index].quantity);
    }
    return out;
}

// Somewhere in the run it is cranked with all that it fires with, so that the time that it takes has a say.
bool is_about_to_fire(const Film& film) {
    const Model& m = film.model();
    const auto& needs = m.engine->fires_with;
    return std::any_of(film.frames().begin(), film.frames().end(), [&](const Frame& f) {
        return std::get<Mode>(f.signals[m.mode]) == Mode::cranking &&
               std::all_of(needs.begin(), needs.end(),
                           [&](LoadId l) { return std::get<bool>(f.signals[m.loads[l].signal]); });
    });
}

std::vector<std::string> engine_numbers(const Model& m, const std::set<Mode>& modes, bool healthy, bool may_fire) {
    const Engine& e = *m.engine;
    const auto is_default = [&e](const char* key) {
        return std::find(e.defaults.begin(), e.defaults.end(), key) != e.defaults.end();
    };
    std::vector<std::string> out;
    if (is_default("firing_time") && may_fire) out.push_back("firing time " + times_text(e.firing_time));
    if (is_default("coast_down") && healthy && modes.contains(Mode::coasting))
        out.push_back("coast-down " + times_text(e.coast_down));
    if (is_default("catches_above") && e.speed && modes.contains(Mode::coasting))
        out.push_back("catches above " + number_text(m, m.quantities[e.speed].signal, e.catches_above));
    return out;
}

}  // namespace

std::string band_text(const Model& m, SignalId id, const ModeBand& band) {
    std::string text = interval_text(m, id, band.within);
    if (band.after)
        text += " from " + duration_text(*band.after) + " (before: " + interval_text(m, id, band.before) + ")";
    return text;
}

bool speaks_of_healthy(const Model& m) {
    return std::any_of(m.claims.begin(), m.claims.end(), [&m](const Claim& c) {
        return m.conditions[c.condition].healthy || (c.reached_under && m.conditions[c.reached_under].healthy);
    });
}

std::vector<std::string> unmeasured_numbers(const Film& film, const std::set<SignalId>& told) {
    const Model& m = film.model();
    const Condition& c = m.conditions[film.condition()];
    const std::set<Mode> modes = visited_modes(film);
    std::vector<std::string> out;
    for (const QuantityId k : quantities_of(m, told.empty() ? film.cone().signals : told)) {
        const bool replaced =
            std::any_of(c.replaced.begin(), c.replaced.end(), [k](const auto& r) { return r.first == k; });
        const std::string text = c.healthy && !replaced ? bands(m, k, modes) : "";
        if (!text.empty()) out.push_back(text);
    }
    if (m.engine && film.cone().has(m.mode))
        for (auto& text : engine_numbers(m, modes, c.healthy, is_about_to_fire(film))) out.push_back(std::move(text));
    return out;
}

std::vector<std::string> unmeasured_numbers(const Model& m) {
    const std::set<Mode> modes(all_modes.begin(), all_modes.end());
    const bool healthy = speaks_of_healthy(m);
    std::vector<std::string> out;
    for (const QuantityId k : m.quantities.ids()) {
        const Quantity& q = m.quantities[k];
        if (q.range_is_default)
            out.push_back(m.name_of(q.signal) + " at any time " + interval_text(m, q.signal, q.range));
        const std::string text = healthy ? bands(m, k, modes) : "";
        if (!text.empty()) out.push_back("healthy: " + text);
    }
    if (m.engine)
        for (auto& text : engine_numbers(m, modes, healthy, true)) out.push_back(std::move(text));
    return out;
}

}  // namespace lanyard::report
