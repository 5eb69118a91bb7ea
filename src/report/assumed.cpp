#include "report/assumed.hpp"

#include <algorithm>
#include <array>

#include "base/characters.hpp"
#include "report/unmeasured.hpp"
#include "report/words.hpp"
#include "sim/words.hpp"

namespace lanyard::report {

namespace {

std::string line_of(const Place& place) { return "line " + std::to_string(place.line); }

class List {
 public:
    explicit List(const Model& m) : m_(m) {}

    std::vector<Assumed> take() {
        const bool healthy = speaks_of_healthy(m_);
        for (const QuantityId k : m_.quantities.ids()) quantity(m_.quantities[k], healthy);
        for (const auto& s : m_.sensors) sensor(s);
        for (const auto& r : m_.relays) relay(r);
        if (m_.engine) engine(*m_.engine, healthy);
        for (const ConditionId k : m_.conditions.ids())
            if (k > healthy_condition) condition(k);
        return std::move(out_);
    }

 private:
    const Model& m_;
    std::vector<Assumed> out_;

    void add(const std::string& what, const std::string& value, const std::string& where) {
        out_.push_back({sanitize_for_terminal(what), sanitize_for_terminal(value), where});
    }

    void quantity(const Quantity& q, bool healthy) {
        const Signal& s = m_.signal(q.signal);
        add(s.name + ", at any time", interval_text(m_, q.signal, q.range),
            q.range_is_default ? common_practice : line_of(s.place));
        if (healthy) bands(q);
        for (const auto& l : q.lines)
            if (healthy || !l.healthy_only)
                add(s.name + (l.healthy_only ? ", healthy" : "") + ", when " + text_of(m_, *l.when),
                    (l.is_change ? "changes by " + rate_text(q.signal, l.band) + " each second"
                                 : interval_text(m_, q.signal, l.band)),
                    line_of(l.place));
    }

    std::string rate_text(SignalId id, const Interval& band) const {
        return sim::difference_text(m_, id, band.lo) + " .. " + sim::difference_text(m_, id, band.hi);
    }

    // Equal modes are told once.
    void bands(const Quantity& q) {
        struct Told {
            std::string value, where, modes;
        };
        std::vector<Told> told;
        for (const Mode m : all_modes) {
            const auto& band = q.healthy[ordinal(m)];
            if (!band) continue;
            const std::string value = band_text(m_, q.signal, *band);
            const std::string where = band->is_default ? common_practice : line_of(band->place);
            const std::string mode = mode_name(m);
            const auto same = std::find_if(told.begin(), told.end(),
                                           [&](const Told& t) { return t.value == value && t.where == where; });
            if (same == told.end())
                told.push_back({value, where, mode});
            else
                same->modes += ", " + mode;
        }
        for (const auto& t : told) {
            const bool all = std::count(t.modes.begin(), t.modes.end(), ',') == mode_count - 1;
            add(m_.name_of(q.signal) + ", healthy" + (all ? "" : ": " + t.modes), t.value, t.where);
        }
    }

    void sensor(const Sensor& s) {
        const Signal& signal = m_.signal(s.signal);
        if (s.accuracy > 0)
            add(signal.name + ", accuracy of the sensor", "within " + sim::difference_text(m_, s.signal, s.accuracy),
                line_of(signal.place));
        if (s.delay > 0)
            add(signal.name + ", delay of the sensor", "at most " + duration_text(s.delay), line_of(signal.place));
    }

    void relay(const Relay& r) {
        const Signal& s = m_.signal(r.contact);
        if (r.pulls_in.hi > 0) add(s.name + " pulls in", times_text(r.pulls_in), line_of(s.place));
        if (r.drops_out.hi > 0) add(s.name + " drops out", times_text(r.drops_out), line_of(s.place));
    }

    void engine(const Engine& e, bool healthy) {
        const auto where = [&](const char* key) {
            const bool is_default = std::find(e.defaults.begin(), e.defaults.end(), key) != e.defaults.end();
            return is_default ? std::string(common_practice) : line_of(e.place);
        };
        add("engine, cranked until it fires", times_text(e.firing_time), where("firing_time"));
        if (healthy) add("engine, keeps turning without firing for", times_text(e.coast_down), where("coast_down"));
        if (e.speed)
            add("engine, catches again above", number_text(m_, m_.quantities[e.speed].signal, e.catches_above),
                where("catches_above"));
        if (e.run_on.hi > 0) add("engine, runs on after a cut for", times_text(e.run_on), where("run_on"));
    }

    // Only those that claims are made under.
    void condition(ConditionId index) {
        const Condition& c = m_.conditions[index];
        const auto used = [index](const Claim& x) { return x.condition == index || x.reached_under == index; };
        if (std::none_of(m_.claims.begin(), m_.claims.end(), used)) return;
        for (const auto& e : c.holds) {
            const std::string says = text_of(m_, *e);
            add(says == c.name ? "condition of a claim" : "under " + c.name, says, line_of(c.place));
        }
        for (const auto& [q, interval] : c.replaced) {
            const SignalId id = m_.quantities[q].signal;
            add("under " + c.name + ": " + m_.name_of(id), interval_text(m_, id, interval), line_of(c.place));
        }
    }
};

}  // namespace

std::vector<Assumed> assumed_numbers(const Model& m) { return List(m).take(); }

}  // namespace lanyard::report
