#include "report/unmeasured.hpp"

#include <algorithm>
#include <set>

#include "report/words.hpp"

namespace lanyard::report {

namespace {

std::set<Mode> visited_modes(const Film& film) {
    const Model& m = film.model();
    if (m.mode < 0) return {Mode::stopped};
    std::set<Mode> out;
    for (const auto& f : film.frames()) out.insert(std::get<Mode>(at(f.signals, m.mode)));
    return out;
}

void bands(const Model& m, const Quantity& q, const std::set<Mode>& modes, std::vector<std::string>& out) {
    for (const Mode mode : modes) {
        const auto& band = q.healthy[static_cast<std::size_t>(mode)];
        if (!band || !band->is_default) continue;
        std::string text = m.name_of(q.signal) + " " + mode_name(mode) + " " + interval_text(m, q.signal, band->within);
        if (band->after)
            text += " from " + duration_text(*band->after) + " (before: " + interval_text(m, q.signal, band->before) + ")";
        out.push_back(text);
    }
}

std::string times_text(const Interval& i) {
    return i.lo == i.hi ? duration_text(i.lo) : duration_text(i.lo) + " .. " + duration_text(i.hi);
}

}  // namespace

std::vector<std::string> unmeasured_numbers(const Film& film, const Cone& cone, int condition) {
    const Model& m = film.model();
    const Condition& c = m.conditions[static_cast<std::size_t>(condition)];
    const std::set<Mode> modes = visited_modes(film);
    std::vector<std::string> out;
    for (std::size_t k = 0; k < m.quantities.size(); ++k) {
        const bool replaced = std::any_of(c.replaced.begin(), c.replaced.end(),
                                          [k](const auto& r) { return r.first == static_cast<int>(k); });
        if (c.healthy && !replaced && cone.has(m.quantities[k].signal)) bands(m, m.quantities[k], modes, out);
    }
    if (!m.engine || !cone.has(m.mode)) return out;
    const Engine& e = *m.engine;
    const auto is_default = [&e](const char* key) {
        return std::find(e.defaults.begin(), e.defaults.end(), key) != e.defaults.end();
    };
    if (is_default("firing_time") && modes.contains(Mode::cranking))
        out.push_back("firing time " + times_text(e.firing_time));
    if (is_default("coast_down") && c.healthy && modes.contains(Mode::coasting))
        out.push_back("coast-down " + times_text(e.coast_down));
    if (is_default("catches_above") && e.speed >= 0 && modes.contains(Mode::coasting))
        out.push_back("catches above " +
                      number_text(m, m.quantities[static_cast<std::size_t>(e.speed)].signal, e.catches_above));
    return out;
}

}  // namespace lanyard::report
