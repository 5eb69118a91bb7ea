#include "sim/chooser.hpp"

#include <algorithm>

#include "sim/room.hpp"
#include "sim/words.hpp"

namespace lanyard::sim {

namespace {

// Before anybody has said anything: 0 on the gauge, or what is nearest to it for a healthy engine that stands still.
Rational resting_value(const Model& m, QuantityId q) {
    const Quantity& quantity = m.quantities[q];
    const auto& band = quantity.healthy[ordinal(Mode::stopped)];
    const Interval& where = band ? band->within : quantity.range;
    const Rational zero = to_si(0, unit_of(m, quantity.signal), m.signal(quantity.signal).type.difference);
    return std::clamp(zero, where.lo, where.hi);
}

Mode on_the_way(Mode here, Mode there) {
    if (here == Mode::stopped) return Mode::cranking;
    if (here == Mode::running) return Mode::coasting;
    if (here == Mode::cranking) return there == Mode::coasting ? Mode::running : Mode::cranking;
    return there == Mode::running ? Mode::cranking : Mode::coasting;
}

}  // namespace

Choices Chooser::choose(const Indexed<Switch, std::optional<bool>>& held_positions,
                        const std::vector<HalfLine>& held_lines) {
    const Pick pick = [this](ProbeId probe, Fed a) { return choose_answer(probe, a); };
    c_.wiring.resize(m_.circuit.probes.size());
    choose_faults();
    choose_positions(held_positions);
    choose_quantities(held_lines);
    play_.set_world(c_.positions, c_.quantities);
    play_.feed_controller(pick);
    choose_readings();
    choose_missed();
    play_.sample(c_.missed, c_.readings);
    const Permission up = play_.may_be_up();
    c_.booted = take(up, wish_.booted, true);
    play_.run_logic(up.taken(c_.booted));
    play_.energise_coils(pick);
    choose_contacts();
    choose_free_loads();
    play_.drive(c_.contacts, c_.free_loads, pick);
    play_.observe();
    c_.next_mode = choose_mode();
    c_.claim_moves_on = take(play_.claim_permission(), wish_.claim_moves_on, false);
    return c_;
}

bool Chooser::take(const Permission& permission, const std::optional<bool>& wish, bool idle) const {
    if (permission.must || !permission.may) return idle;
    if (wish) return *wish;
    return wish_.dice && wish_.dice->one_in(4);
}

void Chooser::choose_faults() {
    for (const FaultId f : m_.faults.ids()) {
        const Permission permission = play_.may_be_there(f);
        c_.faults.push_back(permission.taken(wish_.faults[f]));
        play_.set_fault(f, c_.faults[f]);
    }
}

bool Chooser::choose_answer(ProbeId probe, Fed a) {
    bool answer = a.must;
    if (a.may && !a.must && wish_.wiring[probe]) answer = *wish_.wiring[probe];
    if (a.may && !a.must && !wish_.wiring[probe] && wish_.dice) answer = wish_.dice->one_in(2);
    c_.wiring[probe] = answer;
    return answer;
}

void Chooser::choose_positions(const Indexed<Switch, std::optional<bool>>& held) {
    for (const SwitchId k : m_.switches.ids()) {
        const Switch& s = m_.switches[k];
        bool on = now_.signals().first ? s.rests_on : std::get<bool>(last(s.position));
        if (wish_.positions[k]) on = *wish_.positions[k];
        if (held[k]) on = *held[k];
        on = now_.driven(k).value_or(on);
        c_.positions.push_back(on);
    }
}

Rational Chooser::wanted(QuantityId q) const {
    if (wish_.quantities[q]) return *wish_.quantities[q];
    if (now_.signals().first) return resting_value(m_, q);
    return std::get<Rational>(last(m_.quantities[q].signal));
}

Rational Chooser::within_limits(QuantityId q, const std::vector<HalfLine>& held) const {
    Room room(m_.quantities[q].range);
    play_.each_limit(q, [&](const Limit& l) { room.narrow(l); });
    // What the condition says comes last: if both cannot be met, the world is what is obeyed.
    Room narrow = room;
    for (const auto& h : held) {
        if (h.quantity == q) narrow.narrow(h);
    }
    return (narrow.is_empty() ? room : narrow).nearest(wanted(q));
}

// A line may ask for the quantity's own last value, which at scan 0 is the present one: then a choice can change the
// limits that it was made within, and is made again.
void Chooser::choose_quantities(const std::vector<HalfLine>& held) {
    for (const QuantityId q : m_.quantities.ids()) c_.quantities.push_back(wanted(q));
    for (int round = 0; round < 3; ++round) {
        play_.set_world(c_.positions, c_.quantities);
        const auto before = c_.quantities;
        for (const QuantityId q : m_.quantities.ids()) c_.quantities[q] = within_limits(q, held);
        if (!now_.signals().first || before == c_.quantities) return;
    }
}

void Chooser::choose_readings() {
    for (const SensorId k : m_.sensors.ids()) {
        const Sensor& s = m_.sensors[k];
        const Sensors::Reads how = play_.reads(k);
        if (how.fault) {
            c_.readings.push_back(how.value ? *how.value : any_reading(k));
            continue;
        }
        const Rational accuracy = s.accuracy + how.off;
        if (wish_.readings[k]) {
            c_.readings.push_back(nearest_reading(k, accuracy, *wish_.readings[k]));
            continue;
        }
        const bool exact = !wish_.dice;
        std::vector<Rational> shown;
        play_.each_delayed(k, [&](const Rational& x) {
            shown.push_back(x);
            return !exact;  // the present value is enough
        });
        if (exact) {
            c_.readings.push_back(shown.front());
        } else {
            const Rational& x = wish_.dice->pick(shown);
            c_.readings.push_back(wish_.dice->between(x - accuracy, x + accuracy));
        }
    }
}

Rational Chooser::nearest_reading(SensorId sensor, const Rational& accuracy, const Rational& wish) const {
    std::optional<Rational> best;
    Rational least;
    play_.each_delayed(sensor, [&](const Rational& shown) {
        const Rational away = abs(shown - wish);
        const Rational distance = away > accuracy ? Rational(away - accuracy) : Rational(0);
        if (!best || distance < least) {
            best = std::clamp(wish, Rational(shown - accuracy), Rational(shown + accuracy));
            least = distance;
        }
        return least > 0;
    });
    return *best;
}

// Nothing limits it.
Rational Chooser::any_reading(SensorId sensor) const {
    if (wish_.readings[sensor]) return *wish_.readings[sensor];
    const Sensor& s = m_.sensors[sensor];
    const Quantity& q = m_.quantities[s.quantity];
    if (wish_.dice && wish_.dice->one_in(2)) return wish_.dice->one_in(2) ? q.range.lo : q.range.hi;
    return now_.signals().first ? q.range.lo : std::get<Rational>(last(s.signal));
}

void Chooser::choose_missed() {
    for (const SwitchId k : m_.switches.ids()) {
        const Switch& s = m_.switches[k];
        const bool changed = !now_.signals().first && c_.positions[k] != std::get<bool>(last(s.position));
        const bool wish = wish_.missed[k] || (wish_.dice && wish_.dice->one_in(2));
        c_.missed.push_back(s.may_be_missed && changed && wish);
    }
}

void Chooser::choose_contacts() {
    for (const RelayId k : m_.relays.ids()) {
        const Permission permission = play_.may_have_moved(k);
        const bool position = play_.relays().position(k);
        const auto& wish = wish_.contacts[k];
        const bool early = wish ? *wish != position : wish_.dice && wish_.dice->one_in(2);
        c_.contacts.push_back(permission.taken(early) ? !position : position);
    }
}

void Chooser::choose_free_loads() {
    c_.free_loads.resize(m_.loads.size());
    for (const LoadId k : m_.loads.ids()) {
        if (m_.loads[k].is_free()) c_.free_loads[k] = wish_.free_loads[k].value_or(true);
    }
    if (!m_.engine || !now_.part().condition->healthy) return;
    for (const LoadId load : m_.engine->fires_with) {
        c_.free_loads[load] = c_.free_loads[load] || m_.loads[load].is_free();
    }
}

// The wished mode if it may follow, otherwise the next on the way to it; otherwise where it is; otherwise where it
// must.
Mode Chooser::choose_mode() const {
    const Mode here = now_.state().engine.mode;
    const Modes may = play_.next_modes();
    std::vector<Mode> order{here, Mode::stopped, Mode::coasting, Mode::cranking, Mode::running};
    if (wish_.engine) order.insert(order.begin(), {*wish_.engine, on_the_way(here, *wish_.engine)});
    for (const Mode m : order) {
        if (may[ordinal(m)]) return m;
    }
    return here;
}

}  // namespace lanyard::sim
