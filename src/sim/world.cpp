// Choosing goes the way of a scan: switches, quantities, readings, then - with the machine's logic played on a copy -
// contacts and loads, then the engine's move. Everything that stands in the model as an interval is met by
// construction. Conditions are arbitrary expressions: their plain conjuncts (a switch, a bound of a quantity) are met
// by construction, the rest is tried, first with what is wished and then with other values near the points where the
// model's comparisons turn. So a proposal may be missed where one exists; a proposal that is made is always legal,
// because the interpreter plays it first.
#include "sim/world.hpp"

#include "sim/machine.hpp"
#include "sim/room.hpp"

namespace lanyard {

using sim::HalfLine;
using sim::Leave;
using sim::Limit;
using sim::Machine;
using sim::Modes;
using sim::Room;

Wish::Wish(const Model& m)
    : quantities(m.quantities.size()),
      positions(m.switches.size()),
      missed(m.switches.size()),
      readings(m.sensors.size()),
      contacts(m.relays.size()),
      free_loads(m.loads.size()) {}

Wish::Wish(const Model&, const Choices& all)
    : quantities(all.quantities.begin(), all.quantities.end()),
      positions(all.positions.begin(), all.positions.end()),
      missed(all.missed),
      readings(all.readings.begin(), all.readings.end()),
      contacts(all.contacts.begin(), all.contacts.end()),
      free_loads(all.free_loads.begin(), all.free_loads.end()),
      booted(all.booted),
      engine(all.next_mode),
      driver_moves_on(all.driver_moves_on) {}

namespace {

// A conjunct that a condition holds at every scan.
template <class F>
void each_conjunct(const ExprPtr& e, const F& f) {
    if (e->op != Op::and_) return f(*e);
    for (const auto& a : e->args) each_conjunct(a, f);
}

// One scan being chosen.
class Chooser {
 public:
    Chooser(const Model& model, const Machine& now, const Wish& wish) : m_(model), now_(now), wish_(wish), play_(now) {}

    Choices choose(const std::vector<std::optional<bool>>& held_positions, const std::vector<HalfLine>& held_lines) {
        choose_positions(held_positions);
        choose_quantities(held_lines);
        play_.set_world(c_.positions, c_.quantities);
        choose_readings();
        choose_missed();
        play_.sample(c_.missed, c_.readings);
        const Leave up = play_.may_be_up();
        c_.booted = take(up, wish_.booted, true);
        play_.run_logic(up.taken(c_.booted));
        choose_contacts();
        choose_free_loads();
        play_.drive(c_.contacts, c_.free_loads);
        play_.observe();
        c_.next_mode = choose_mode();
        c_.driver_moves_on = take(play_.driver_leave(), wish_.driver_moves_on, false);
        return c_;
    }

 private:
    // Where nothing is left open the entry does not matter; it then is `idle`, so that equal scans look equal.
    bool take(const Leave& leave, const std::optional<bool>& wish, bool idle) const {
        if (leave.must || !leave.may) return idle;
        if (wish) return *wish;
        return wish_.dice && wish_.dice->one_in(4);
    }

    void choose_positions(const std::vector<std::optional<bool>>& held) {
        const auto* driver = now_.driver_positions();
        for (std::size_t k = 0; k < m_.switches.size(); ++k) {
            const auto& last = now_.state().last[static_cast<std::size_t>(m_.switches[k].position)];
            bool on = now_.state().first ? m_.switches[k].rests_on : std::get<bool>(last);
            if (wish_.positions[k]) on = *wish_.positions[k];
            if (held[k]) on = *held[k];
            if (driver) on = (*driver)[k];
            c_.positions.push_back(on);
        }
    }

    Rational wanted(std::size_t q) const {
        if (wish_.quantities[q]) return *wish_.quantities[q];
        const SignalId id = m_.quantities[q].signal;
        if (!now_.state().first) return std::get<Rational>(now_.state().last[static_cast<std::size_t>(id)]);
        return resting_value(m_, q);
    }

    // A line may ask for the quantity's own last value, which at scan 0 is the present one: then a choice can change
    // the limits that it was made within, and is made again.
    void choose_quantities(const std::vector<HalfLine>& held) {
        for (std::size_t q = 0; q < m_.quantities.size(); ++q) c_.quantities.push_back(wanted(q));
        for (int round = 0; round < 3; ++round) {
            play_.set_world(c_.positions, c_.quantities);
            const auto before = c_.quantities;
            for (std::size_t q = 0; q < m_.quantities.size(); ++q) {
                Room room(m_.quantities[q].range);
                play_.each_limit(static_cast<int>(q), [&](const Limit& l) { room.narrow(l); });
                // What the condition says comes last: if both cannot be met, the world is what is obeyed.
                Room narrow = room;
                for (const auto& h : held) {
                    if (h.quantity == static_cast<int>(q)) narrow.narrow(h);
                }
                c_.quantities[q] = (narrow.is_empty() ? room : narrow).nearest(wanted(q));
            }
            if (!now_.state().first || before == c_.quantities) return;
        }
    }

    void choose_readings() {
        for (std::size_t k = 0; k < m_.sensors.size(); ++k) {
            const Sensor& s = m_.sensors[k];
            std::vector<Rational> shown;
            play_.each_delayed(static_cast<int>(k), [&](const Rational& x) {
                shown.push_back(x);
                return wish_.readings[k] || wish_.dice;  // exact: the present value is enough
            });
            if (wish_.readings[k]) {
                c_.readings.push_back(nearest_reading(shown, s.accuracy, *wish_.readings[k]));
            } else if (wish_.dice) {
                const Rational& x = wish_.dice->pick(shown);
                c_.readings.push_back(wish_.dice->between(x - s.accuracy, x + s.accuracy));
            } else {
                c_.readings.push_back(shown.front());
            }
        }
    }

    static Rational nearest_reading(const std::vector<Rational>& shown, const Rational& accuracy,
                                    const Rational& wish) {
        Rational best = shown.front();
        for (std::size_t k = 0; k < shown.size(); ++k) {
            const Rational x = std::clamp(wish, Rational(shown[k] - accuracy), Rational(shown[k] + accuracy));
            if (k == 0 || abs(x - wish) < abs(best - wish)) best = x;
        }
        return best;
    }

    void choose_missed() {
        for (std::size_t k = 0; k < m_.switches.size(); ++k) {
            const Switch& s = m_.switches[k];
            const bool changed =
                !now_.state().first &&
                c_.positions[k] != std::get<bool>(now_.state().last[static_cast<std::size_t>(s.position)]);
            const bool wish = wish_.missed[k] || (wish_.dice && wish_.dice->one_in(2));
            c_.missed.push_back(s.may_be_missed && changed && wish);
        }
    }

    void choose_contacts() {
        for (std::size_t k = 0; k < m_.relays.size(); ++k) {
            const Leave leave = play_.may_have_moved(static_cast<int>(k));
            const bool position = play_.position_of_contact(static_cast<int>(k));
            const auto& wish = wish_.contacts[k];
            const bool early = wish ? *wish != position : wish_.dice && wish_.dice->one_in(2);
            c_.contacts.push_back(leave.taken(early) ? !position : position);
        }
    }

    void choose_free_loads() {
        c_.free_loads.resize(m_.loads.size());
        for (std::size_t k = 0; k < m_.loads.size(); ++k) {
            if (m_.loads[k].feeders.empty()) c_.free_loads[k] = wish_.free_loads[k].value_or(true);
        }
        if (!m_.engine || !now_.plan().condition.healthy) return;
        for (const int load : m_.engine->fires_with) {
            const auto k = static_cast<std::size_t>(load);
            c_.free_loads[k] = c_.free_loads[k] || m_.loads[k].feeders.empty();
        }
    }

    // The next mode on the way to the wished one, if it may follow; otherwise where it is; otherwise where it must.
    Mode choose_mode() const {
        const Mode here = now_.state().engine.mode;
        const Modes may = play_.next_modes();
        std::vector<Mode> order{here, Mode::stopped, Mode::coasting, Mode::cranking, Mode::running};
        if (wish_.engine) order.insert(order.begin(), {*wish_.engine, on_the_way(here, *wish_.engine)});
        for (const Mode m : order) {
            if (may[static_cast<std::size_t>(m)]) return m;
        }
        return here;
    }

    static Mode on_the_way(Mode here, Mode there) {
        if (here == Mode::stopped) return Mode::cranking;
        if (here == Mode::running) return Mode::coasting;
        if (here == Mode::cranking) return there == Mode::coasting ? Mode::running : Mode::cranking;
        return there == Mode::running ? Mode::cranking : Mode::coasting;
    }

    static Rational resting_value(const Model& m, std::size_t q);

    const Model& m_;
    const Machine& now_;
    const Wish& wish_;
    Machine play_;
    Choices c_;
};

// Before anybody has said anything: 0 on the gauge, or what is nearest to it for a healthy engine that stands still.
Rational Chooser::resting_value(const Model& m, std::size_t q) {
    const Quantity& quantity = m.quantities[q];
    const Signal& s = m.signal(quantity.signal);
    const Unit unit = s.unit ? *s.unit : default_unit(s.type.dimension);
    const auto& band = quantity.healthy[static_cast<std::size_t>(Mode::stopped)];
    const Interval& where = band ? band->within : quantity.range;
    return std::clamp(to_si(0, unit, s.type.difference), where.lo, where.hi);
}

}  // namespace

World::World(const Model& model, int condition)
    : model_(model),
      condition_(model.conditions[static_cast<std::size_t>(condition)]),
      points_(sim::turning_points(model)),
      held_positions_(model.switches.size()) {
    const auto hold = [&](const Expr& e, bool on) {
        if (e.op != Op::signal || model.signal(e.signal).kind != SignalKind::position) return;
        held_positions_[static_cast<std::size_t>(model.signal(e.signal).index)] = on;
    };
    for (const auto& holds : condition_.holds) {
        each_conjunct(holds, [&](const Expr& e) {
            hold(e, true);
            if (e.op == Op::not_) hold(*e.args[0], false);
            for (const auto& h : sim::half_lines(model, e)) held_lines_.push_back(h);
        });
    }
}

Proposal World::attempt(const Interpreter& now, const Wish& wish) const {
    Proposal p;
    Choices c = Chooser(model_, now.machine(), wish).choose(held_positions_, held_lines_);
    p.after = std::make_unique<Interpreter>(now);
    p.scan = p.after->step(c);
    p.why_not = p.scan.broken_rule;
    if (p.why_not.empty()) p.choices = std::move(c);
    return p;
}

// First one thing after the other, then several at once.
Wish World::varied(const Wish& wish, std::size_t attempt, sim::Dice& dice) const {
    Wish w = wish;
    const std::size_t switches = w.positions.size();
    if (attempt < switches) {
        w.positions[attempt] = !w.positions[attempt].value_or(false);
        return w;
    }
    for (std::size_t k = 0; k < switches; ++k) {
        if (dice.one_in(4)) w.positions[k] = dice.one_in(2);
    }
    for (std::size_t q = 0; q < w.quantities.size(); ++q) {
        if (dice.one_in(2) && !points_[q].empty()) w.quantities[q] = dice.pick(points_[q]);
    }
    if (dice.one_in(4)) w.engine = static_cast<Mode>(dice.below(mode_count));
    if (dice.one_in(4)) w.contacts.assign(w.contacts.size(), dice.one_in(2));
    return w;
}

Proposal World::propose(const Interpreter& now, const Wish& wish) const {
    Proposal first = attempt(now, wish);
    if (first.choices) return first;
    constexpr std::size_t attempts = 200;
    sim::Dice dice(1);
    for (std::size_t k = 0; k < attempts; ++k) {
        Proposal p = attempt(now, varied(wish, k, dice));
        if (p.choices) return p;
    }
    return first;
}

void append(Run& run, const Choices& choices) {
    if (!run.segments.empty() && run.segments.back().first == choices) {
        ++run.segments.back().scans;
        return;
    }
    Segment s;
    s.first = choices;
    run.segments.push_back(std::move(s));
}

}  // namespace lanyard
