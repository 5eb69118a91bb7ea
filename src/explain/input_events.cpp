#include "explain/input_events.hpp"

#include <algorithm>

#include "base/overloaded.hpp"
#include "sim/interpreter.hpp"

namespace lanyard::explain {

namespace {

using Kind = InputEvent::Kind;

// What lasts until something puts it right; the other kinds are choices between equals.
bool is_deviation(Kind k) { return k == Kind::missed || k == Kind::reading || k == Kind::contact || k == Kind::fault; }

class Finder {
 public:
    Finder(const Model& m, const Run& run, const Cone& cone, const std::vector<Scan>& scans)
        : m_(m), run_(run), cone_(cone), scans_(scans) {}

    std::vector<InputEvent> find() {
        for (const SwitchId k : m_.switches.ids()) {
            if (cone_.has(m_.switches[k].position)) follow(Kind::position, k);
            if (cone_.has(m_.switches[k].seen)) follow(Kind::missed, k);
        }
        for (const QuantityId k : m_.quantities.ids())
            if (cone_.has(m_.quantities[k].signal)) movements(k);
        for (const SensorId k : m_.sensors.ids())
            if (cone_.has(m_.sensors[k].signal)) follow(Kind::reading, k);
        for (const RelayId k : m_.relays.ids())
            if (cone_.has(m_.relays[k].contact)) follow(Kind::contact, k);
        for (const LoadId k : m_.loads.ids())
            if (m_.loads[k].is_free() && cone_.has(m_.loads[k].signal)) follow(Kind::free_load, k);
        for (const ProbeId k : m_.circuit.probes.ids()) follow(Kind::wiring, k);
        for (const FaultId k : m_.faults.ids()) follow(Kind::fault, k);
        if (m_.mode && cone_.has(m_.mode)) follow(Kind::mode, {});
        std::stable_sort(out_.begin(), out_.end(),
                         [](const InputEvent& a, const InputEvent& b) { return a.scan < b.scan; });
        return std::move(out_);
    }

 private:
    // What is so before anybody does anything.
    Value at_rest(Kind kind, AnyId k) const {
        if (kind == Kind::position) return m_.switches[k].rests_on;
        if (kind == Kind::mode) return Mode::stopped;
        return false;
    }

    Value state(const InputEvent& e, const Choices& c, long scan) const {
        const AnyId k = e.index;
        if (e.kind == Kind::reading) return c.readings[k] != c.quantities[m_.sensors[k].quantity];
        if (e.kind != Kind::contact) return event_value(e, c);
        const Relay& r = m_.relays[k];
        if (!r.coil) return c.contacts[k] != c.wiring[r.coil_probe];
        const Value& coil = scans_[static_cast<std::size_t>(scan)].signals[r.coil];
        const auto* duty = std::get_if<Rational>(&coil);
        return c.contacts[k] != (duty != nullptr ? *duty > 0 : std::get<bool>(coil));
    }

    void begin(InputEvent e, long scan) {
        e.scan = scan;
        e.until = run_.scans();
        out_.push_back(e);
    }
    void end(const InputEvent& e, long scan) {
        for (auto& known : out_)
            if (known.kind == e.kind && known.index == e.index && known.until > scan) known.until = scan;
    }

    void follow(Kind kind, AnyId k) {
        const InputEvent e{kind, k, 0, 0};
        Value before = at_rest(kind, k);
        long scan = 0;
        for (const auto& s : run_.segments) {
            const Value now = state(e, s.first, scan);
            if (now != before) {
                end(e, scan);
                if (!is_deviation(kind) || std::get<bool>(now)) begin(e, scan);
            }
            before = now;
            scan += s.scans;
        }
    }

    // Where a quantity begins, and where it begins to go up or down.
    void movements(QuantityId k) {
        const InputEvent e{Kind::quantity, k, 0, 0};
        const Rational* before = nullptr;
        int way = 0;
        long scan = 0;
        for (const auto& s : run_.segments) {
            const Rational& first = s.first.quantities[k];
            const Rational& last = s.last_quantities.empty() ? first : s.last_quantities[k];
            const int now = sgn(Rational(before == nullptr || first == *before ? last - first : first - *before));
            if (before == nullptr || (now != 0 && now != way)) {
                end(e, scan);
                begin(e, scan);
            }
            // One that has been waiting begins anew.
            way = s.scans > 1 && last == first ? 0 : now;
            before = &last;
            scan += s.scans;
        }
    }

    const Model& m_;
    const Run& run_;
    const Cone& cone_;
    const std::vector<Scan>& scans_;
    std::vector<InputEvent> out_;
};

}  // namespace

namespace {

// The first scan of the run's scans [begin, end) at which the engine might have fired.
std::optional<long> might_fire(const Model& m, const Run& run, ConditionId condition, ClaimId claim, long begin,
                               long end) {
    std::optional<long> out;
    Interpreter now(m, condition, claim);
    long scan = 0;
    each_scan(run, [&](const Choices& c) {
        if (scan >= begin) {
            Choices fires = c;
            fires.next_mode = Mode::running;
            if (now.check(fires).empty()) out = scan;
        }
        if (out || ++scan >= end) return false;
        now.step(c);
        return true;
    });
    return out;
}

// Switches that nobody has touched in all of the run.
std::vector<InputEvent> never_moved(const Model& m, const Run& run, const Cone& cone) {
    std::vector<InputEvent> out;
    for (const SwitchId k : m.switches.ids()) {
        const auto rests = [&](const Segment& s) { return s.first.positions[k] == m.switches[k].rests_on; };
        if (cone.has(m.switches[k].position) && std::all_of(run.segments.begin(), run.segments.end(), rests))
            out.push_back({Kind::position, k, 0, run.scans()});
    }
    return out;
}

}  // namespace

std::vector<InputEvent> chances_missed(const Model& m, const Run& run, ConditionId condition, ClaimId claim,
                                       const std::vector<Scan>& scans) {
    const Cone cone = cone_of(m, condition, claim);
    std::vector<InputEvent> out = never_moved(m, run, cone);
    if (!m.mode || !cone.has(m.mode)) return out;
    const auto mode = [&](long scan) { return std::get<Mode>(scans[static_cast<std::size_t>(scan)].signals[m.mode]); };
    const auto value = [&](QuantityId k, long scan) {
        return std::get<Rational>(scans[static_cast<std::size_t>(scan)].signals[m.quantities[k].signal]);
    };
    long since = 0;
    for (long scan = 1; scan <= std::ssize(scans); ++scan) {
        const bool over = scan == std::ssize(scans);
        if (!over && mode(scan) == mode(scan - 1)) continue;
        // Its next mode is chosen a scan before it is there.
        if (mode(scan - 1) == Mode::cranking) {
            const auto fires = might_fire(m, run, condition, claim, since, scan - 1);
            if (fires) out.push_back({Kind::mode, {}, *fires, scan - 1});
        }
        for (const QuantityId k : m.quantities.ids()) {
            if (over || !cone.has(m.quantities[k].signal) || value(k, scan) != value(k, scan - 1)) continue;
            long until = scan;
            while (until < std::ssize(scans) && value(k, until) == value(k, scan)) ++until;
            out.push_back({Kind::quantity, k, scan, until});
        }
        since = scan;
    }
    return out;
}

std::vector<InputEvent> input_events(const Model& model, const Run& run, const Cone& cone,
                                     const std::vector<Scan>& scans) {
    return Finder(model, run, cone, scans).find();
}

namespace {

// Calls f with what the event is about.
template <class C, class F>
void with_choice(const InputEvent& e, C& c, const F& f) {
    const AnyId k = e.index;
    switch (e.kind) {
        case Kind::position:
            return f(c.positions[k]);
        case Kind::missed:
            return f(c.missed[k]);
        case Kind::quantity:
            return f(c.quantities[k]);
        case Kind::reading:
            return f(c.readings[k]);
        case Kind::contact:
            return f(c.contacts[k]);
        case Kind::free_load:
            return f(c.free_loads[k]);
        case Kind::wiring:
            return f(c.wiring[k]);
        case Kind::fault:
            if (!c.faults.empty()) f(c.faults[k]);
            return;
        case Kind::mode:
            return f(c.next_mode);
    }
}

}  // namespace

Value event_value(const InputEvent& e, const Choices& c) {
    Value out = false;
    with_choice(e, c, [&](const auto& is) { out = is; });
    return out;
}

void set_value(const InputEvent& e, const Value& v, Choices& c) {
    const auto set = Overloaded{
        [&](std::vector<bool>::reference to) { to = std::get<bool>(v); },
        [&](Rational& to) { to = std::get<Rational>(v); },
        [&](Mode& to) { to = std::get<Mode>(v); },
    };
    with_choice(e, c, set);
}

}  // namespace lanyard::explain
