#include "card/bench.hpp"

#include <algorithm>
#include <map>

#include "card/expressions.hpp"
#include "sim/words.hpp"

namespace lanyard::card {

namespace {

class Builder {
 public:
    explicit Builder(const Model& model) : user_(model) { b_.model = model; }

    Bench build() {
        stop_the_engine();
        nothing_breaks();
        free_the_world();
        for (const SwitchId s : user_.switches.ids()) add_hand_switch(s);
        for (const SensorId s : user_.sensors.ids()) add_box(s);
        for (const QuantityId q : user_.quantities.ids()) add_direct_box(q);
        for (const auto& l : user_.loops) add_plug(l.signal);
        for (const auto& w : user_.wired_inputs) add_plug(w.signal);
        read_what_is_there();
        return std::move(b_);
    }

 private:
    Model& m() { return b_.model; }

    void stop_the_engine() {
        m().engine.reset();
        m().claims.clear();
        m().rules.clear();
        m().packs.clear();
        m().conditions.resize(2);
        if (!m().mode) return;
        const SignalId mode = m().mode;
        m().mode = {};
        const auto still = [&](const ExprPtr& e) {
            return replaced(e, [&](const Expr& x) -> ExprPtr {
                if ((x.op != Op::signal && x.op != Op::last) || x.signal != mode) return nullptr;
                return mode_expr(Mode::stopped);
            });
        };
        m().supply.on = still(m().supply.on);
        for (auto& s : m().circuit.sources) s.live = still(s.live);
    }

    // Without faults all that would wait for one is idle, and what speaks of one speaks of FALSE.
    void nothing_breaks() {
        for (const Fault& f : m().faults) {
            if (!f.signal) continue;
            Logic never;
            never.signal = f.signal;
            never.is = truth_expr(false);
            Signal& s = m().signals[f.signal];
            s.kind = SignalKind::logic;
            s.index = m().logic.add(std::move(never));
            m().order.insert(m().order.begin(), f.signal);
        }
        m().faults.clear();
        for (auto& s : m().switches) clear({&s.stuck_on_by, &s.stuck_off_by, &s.bounced_by});
        for (auto& s : m().sensors) s.faults.clear();
        for (auto& l : m().loops) l.opened_by.clear();
        for (auto& o : m().outputs) clear({&o.stuck_on_by, &o.stuck_off_by});
        for (auto& r : m().relays) clear({&r.never_pulls_by, &r.welded_by, &r.slow_by});
        for (auto& w : m().wired_inputs) clear({&w.stuck_on_by, &w.stuck_off_by});
        for (auto& b : m().circuit.branches) clear({&b.opened_by, &b.closed_by, &b.bounced_by});
        for (auto& s : m().circuit.sources) clear({&s.excited_by, &s.dead_by});
        clear({&m().supply.resets_by, &m().supply.dead_by});
        for (auto& c : m().conditions) {
            clear({&c.faults, &c.present});
            c.excluded.clear();
        }
    }
    static void clear(std::initializer_list<std::vector<FaultId>*> lists) {
        for (auto* list : lists) list->clear();
    }

    void free_the_world() {
        for (auto& q : m().quantities) {
            q.healthy = {};
            q.lines.clear();
        }
        if (user_.engine && user_.engine->speed) m().quantities[user_.engine->speed].range = {0, 0};
        for (const QuantityId q : user_.quantities.ids()) add_quantity(q);
        for (auto& s : m().switches) s.may_be_missed = false;
    }

    // 0 on the gauge, or what is nearest to it with a healthy engine that stands still.
    Rational resting(QuantityId q, const Interval& range) const {
        const Quantity& quantity = user_.quantities[q];
        const auto& band = quantity.healthy[ordinal(Mode::stopped)];
        const Interval& where = band ? band->within : range;
        const Signal& s = user_.signal(quantity.signal);
        const Rational zero = to_si(0, sim::unit_of(user_, quantity.signal), s.type.difference);
        return std::clamp(zero, where.lo, where.hi);
    }

    // Of the world itself nothing but what the wiring and the supply feel is set.
    void add_quantity(QuantityId q) {
        const Interval& range = m().quantities[q].range;
        bool felt = m().circuit.voltage == q;
        const auto look = [&](const ExprPtr& e) {
            if (e) visit(e, [&](const Expr& x) { felt = felt || x.signal == user_.quantities[q].signal; });
        };
        look(m().supply.on);
        for (const auto& s : m().circuit.sources) look(s.live);
        if (!felt || range.lo == range.hi) return;
        add_number(InputKind::quantity, q, user_.quantities[q].signal, q, 0);
    }

    // Set to the number `shown`, for what rests as the quantity `q` of the user's model does.
    void add_number(InputKind kind, QuantityId shown, SignalId of, QuantityId q, const Rational& accuracy) {
        const Interval& range = user_.quantities[q].range;
        b_.inputs.push_back({kind, shown, of, false, resting(q, range), little(user_, of, range, accuracy)});
    }

    // What a box shows in place of a reading or of a quantity, which it can do in the whole range.
    QuantityId box(SignalId of, const Interval& range) {
        const Signal& s = user_.signal(of);
        Quantity shown;
        shown.signal = add_signal(m(), s.name + ".box", SignalKind::quantity, s.type, m().quantities.next());
        m().signals.back().unit = s.unit;
        shown.range = range;
        return m().quantities.add(std::move(shown));
    }

    void add_hand_switch(SwitchId s) {
        BenchInput in;
        in.index = s;
        in.of = user_.switches[s].position;
        in.rests_on = user_.switches[s].rests_on;
        b_.inputs.push_back(in);
    }

    void add_box(SensorId k) {
        Sensor& sensor = m().sensors[k];
        const QuantityId old = sensor.quantity;
        const Interval& range = user_.quantities[old].range;
        sensor.quantity = box(sensor.signal, {range.lo - sensor.accuracy, range.hi + sensor.accuracy});
        add_number(InputKind::sensor, sensor.quantity, sensor.signal, old, sensor.accuracy);
        sensor.accuracy = 0;
        sensor.delay = 0;
    }

    // A quantity that the logic reads without a sensor of its own: as if it had an exact one.
    void add_direct_box(QuantityId q) {
        const SignalId id = user_.quantities[q].signal;
        bool is_read = false;
        for (const SignalId d : m().order)
            visit(definition(m(), d),
                  [&](const Expr& x) { is_read = is_read || (x.op == Op::signal && x.signal == id); });
        if (!is_read) return;
        const QuantityId shown = box(id, user_.quantities[q].range);
        add_number(InputKind::sensor, shown, id, q, 0);
        instead_[id] = m().quantities[shown].signal;
    }

    // Its accuracy, else a two-hundredth of its range.
    static Rational little(const Model& model, SignalId id, const Interval& range, const Rational& accuracy) {
        if (sgn(accuracy) > 0) return accuracy;
        const Rational about = (range.hi - range.lo) / 200;
        const Unit unit = sim::unit_of(model, id);
        const Rational digits = about / unit.factor;
        if (sgn(digits) == 0) return unit.factor;  // it never moves
        Rational power = 1;
        while (power > digits) power /= 10;
        while (power * 10 <= digits) power *= 10;
        return power * unit.factor;
    }

    void add_plug(SignalId wire) {
        const std::string name = user_.name_of(wire);
        const SwitchId off = add_switch(m(), name + ".unplugged"), on = add_switch(m(), name + ".fed");
        b_.inputs.push_back({InputKind::unplugged, off, wire, false, 0, 0});
        b_.inputs.push_back({InputKind::fed, on, wire, false, 0, 0});
        const ExprPtr plugged = boolean_expr(Op::not_, {signal_expr(m(), seen(off))});
        const ExprPtr through = boolean_expr(Op::and_, {signal_expr(m(), wire), plugged});
        const SignalId here =
            add_logic(m(), name + ".plug", boolean_expr(Op::or_, {through, signal_expr(m(), seen(on))}), false);
        m().order.insert(m().order.begin(), here);
        instead_[wire] = here;
    }
    SignalId seen(SwitchId s) { return m().switches[s].seen; }

    void read_what_is_there() {
        for (const SignalId id : m().order) {
            if (!user_.signals.has(id)) continue;
            define(m(), id, replaced(definition(m(), id), [&](const Expr& x) -> ExprPtr {
                       const auto other = x.op == Op::signal ? instead_.find(x.signal) : instead_.end();
                       return other == instead_.end() ? nullptr : signal_expr(m(), other->second);
                   }));
        }
    }

    const Model& user_;
    Bench b_;
    std::map<SignalId, SignalId> instead_;  // what the logic reads in place of a signal
};

}  // namespace

Bench on_the_bench(const Model& model) { return Builder(model).build(); }

Rational round_number(const Model& model, SignalId id, const Rational& lo, const Rational& hi) {
    if (hi <= lo) return lo;
    const Unit unit = sim::unit_of(model, id);
    const bool difference = model.signal(id).type.difference;
    const Rational quarter = (hi - lo) / 4;
    const Rational from = from_si(lo + quarter, unit, difference), to = from_si(hi - quarter, unit, difference);
    Rational step = 1;
    while (step < to - from) step *= 10;
    for (int tries = 0; tries < 200; ++tries, step /= 10)
        for (const int part : {1, 2}) {
            const Rational grain = step / part;
            const Rational x = ceil_of(from / grain) * grain;
            if (x <= to) return to_si(x, unit, difference);
        }
    return (lo + hi) / 2;
}

}  // namespace lanyard::card
