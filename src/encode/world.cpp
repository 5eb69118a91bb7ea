#include "encode/world.hpp"

#include "encode/folded.hpp"
#include "encode/thresholds.hpp"

namespace lanyard::encode {

const Num& PhysicalWorld::quantity(QuantityId id) {
    if (const auto* known = find(quantities_, id)) return *known;
    const Quantity& q = m_.quantities[id];
    const z3::expr now = s_.input({StateRole::value, q.signal}, ctx_.real_sort());
    Num n{now, now, false};
    if (q.moves()) {
        n.last = s_.input({StateRole::end, q.signal}, ctx_.real_sort());
        n.moving = true;
        s_.last_inputs_move();
    }
    s_.readback().quantities[id] = n;
    s_.later([this, id, n] { quantity_rules(id, n); });
    return quantities_.emplace(id, n).first->second;
}

void PhysicalWorld::quantity_rules(QuantityId id, const Num& q) {
    const Quantity& quantity = m_.quantities[id];
    const std::string& name = m_.name_of(quantity.signal);
    s_.rule("world: range of " + name, s_.inside(q, quantity.range));
    if (m_.engine && m_.engine->speed == id) {
        const z3::expr still = engine_.in_mode(Mode::stopped);
        const auto tied = [&](const z3::expr& v) { return z3::ite(still, v == 0, v > 0); };
        s_.rule("world: " + name + " is 0 in stopped and above 0 elsewhere",
                q.moving ? tied(q.first) && tied(q.last) : tied(q.first));
    }
    const auto& parts = conditions_.of_parts();
    for (std::size_t part = 0; part < parts.size(); ++part)
        if (parts[part]->healthy) band_rules(id, q, part);
    line_rules(id, q);
}

void PhysicalWorld::band_rules(QuantityId id, const Num& q, std::size_t part) {
    const Quantity& quantity = m_.quantities[id];
    const std::string& name = m_.name_of(quantity.signal);
    for (const auto& [which, interval] : conditions_.of_parts()[part]->replaced)
        if (which == id) return conditions_.rule_in(part, "condition: " + name, s_.inside(q, interval));
    for (const Mode mode : all_modes) {
        const auto& band = quantity.healthy[ordinal(mode)];
        if (!band) continue;
        if (!m_.engine) return conditions_.rule_in(part, "healthy: " + name, s_.inside(q, band->within));
        z3::expr holds = s_.inside(q, band->within);
        if (band->after && *band->after > 0) {
            const bool fired = mode == Mode::running || mode == Mode::coasting;
            const z3::expr settled = fired ? engine_.since_fired(*band->after) : engine_.since_turned(*band->after);
            holds = z3::ite(settled, holds, s_.inside(q, band->before));
        }
        conditions_.rule_in(part, "healthy: " + name + " in " + mode_name(mode),
                            z3::implies(engine_.in_mode(mode), holds));
    }
}

// The value at the previous scan; at scan 0 the present one.
z3::expr PhysicalWorld::last_value(QuantityId id, const Num& q) {
    if (const auto* known = find(last_values_, id)) return *known;
    const SignalId signal = m_.quantities[id].signal;
    const z3::expr before = s_.state({StateRole::before, signal}, rational(0), m_.name_of(signal));
    if (q.moving) s_.moves_within_leap(before);
    s_.state_next(before, q.last);
    return last_values_.emplace(id, z3::ite(conditions_.begun(), before, q.first)).first->second;
}

void PhysicalWorld::line_rules(QuantityId id, const Num& q) {
    const Quantity& quantity = m_.quantities[id];
    const std::string& name = m_.name_of(quantity.signal);
    const z3::expr bottom = rational(quantity.range.lo), top = rational(quantity.range.hi);
    z3::expr_vector moving(ctx_);
    int number = 0;
    for (const auto& line : quantity.lines) {
        ++number;
        if (line.healthy_only && !conditions_.ever_healthy()) continue;
        z3::expr guard = truth(true);
        if (line.when) {
            const Owner who{name + ".line" + std::to_string(number), false};
            bool own = false;
            visit(line.when, [&](const Expr& x) { own = own || (x.op == Op::last && x.signal == quantity.signal); });
            if (own) {
                // Truth at the first scan, the same at the second; then the same for all later ones.
                looked_back_at_.insert_or_assign(quantity.signal, Num{last_value(id, q), q.first, true});
                guard = meaning_.boolean(*line.when, who);
                if (q.moving) {
                    looked_back_at_.insert_or_assign(quantity.signal, Num{q.first, q.last, true});
                    meaning_.boolean(*line.when, who);
                }
            } else {
                guard = meaning_.boolean(*line.when, who);
            }
        }
        if (line.healthy_only && conditions_.of_parts().size() > 1) guard = guard && conditions_.healthy();
        const std::string label =
            std::string(line.healthy_only ? "healthy: " : "world: ") + name + " follows line " + std::to_string(number);
        if (!line.is_change) {
            s_.rule(label, z3::implies(guard, s_.inside(q, line.band)));
            continue;
        }
        moving.push_back(guard);
        const Rational lo = line.band.lo * m_.scan, hi = line.band.hi * m_.scan;
        // A line that lets it stand still never takes it beyond an end. Only a way that is at the end all along is
        // straight.
        const auto at_top = [&](const z3::expr& x) { return lo > 0 ? x == top : truth(false); };
        const auto at_bottom = [&](const z3::expr& x) { return hi < 0 ? x == bottom : truth(false); };
        const z3::expr stays_up = folded_and(at_top(q.first), at_top(q.last));
        const z3::expr stays_down = folded_and(at_bottom(q.first), at_bottom(q.last));
        if (q.moving) s_.slope(q.first, {0, guard, rational(lo), rational(hi), stays_up, stays_down});
        const z3::expr step = q.first - last_value(id, q);
        const z3::expr more = z3::to_real(s_.k() - 1);
        const z3::expr rest = q.last - q.first;
        const z3::expr enters =
            folded_or(step >= rational(lo), at_top(q.first)) && folded_or(step <= rational(hi), at_bottom(q.first));
        const z3::expr goes_on =
            folded_or(rest >= rational(lo) * more, stays_up) && folded_or(rest <= rational(hi) * more, stays_down);
        s_.rule(label, z3::implies(guard, z3::implies(conditions_.begun(), enters) && goes_on));
    }
    if (q.moving) s_.rule(leap_rule, any_of(moving) || q.last == q.first);
}

z3::expr PhysicalWorld::position(SwitchId id) {
    std::optional<z3::expr>& free = s_.readback().positions[id];
    if (!free) free = s_.choice({StateRole::value, m_.switches[id].position});
    return *free;
}

z3::expr PhysicalWorld::position_before(SwitchId id) {
    if (const auto* known = find(positions_before_, id)) return *known;
    const Switch& sw = m_.switches[id];
    const z3::expr was = s_.state({StateRole::before, sw.position}, truth(sw.rests_on), m_.name_of(sw.position));
    s_.state_next(was, position(id));
    return positions_before_.emplace(id, was).first->second;
}

z3::expr PhysicalWorld::moved(SwitchId id) {
    return folded_and(conditions_.begun(), position(id) != position_before(id));
}

z3::expr PhysicalWorld::seen(SwitchId id) {
    const Switch& sw = m_.switches[id];
    const z3::expr now = position(id);
    z3::expr noticed = now;
    if (sw.may_be_missed) {
        const std::string& name = m_.name_of(sw.position);
        const z3::expr was = position_before(id);
        const z3::expr missed = s_.choice({StateRole::missed, sw.position});
        s_.rule("world: first scan of " + name, z3::implies(missed, conditions_.begun()));
        s_.readback().missed[id] = missed;
        noticed = z3::ite(missed, was, now);
    }
    const z3::expr closed = folded_or(sw.normally_closed ? !noticed : noticed, faults_.any(sw.stuck_on_by));
    const z3::expr bounced = folded_or(faults_.any(sw.stuck_off_by), meaning_.asked(ProbeKind::chatter, id));
    return folded_and(closed, folded_not(bounced));
}

// What a sensor shows by its faults, see Machine::reads.
PhysicalWorld::Soundness PhysicalWorld::soundness(const Sensor& sensor, const z3::expr& shown) {
    const std::string& name = m_.name_of(sensor.signal);
    z3::expr wire = truth(false), stuck = truth(false), stuck_before = truth(false);
    z3::expr frozen = truth(false), frozen_before = truth(false), off = rational(0);
    for (const FaultId i : sensor.faults) {
        if (!faults_.may_happen(i)) continue;
        const Fault& f = m_.faults[i];
        if (f.kind == FaultKind::sensor_stuck) {
            stuck = faults_.fault(i);
            stuck_before = stuck && faults_.before(i);
        } else if (f.kind == FaultKind::sensor_frozen) {
            frozen = faults_.fault(i);
            frozen_before = frozen && faults_.before(i);
        } else if (f.kind == FaultKind::sensor_drift) {
            if (sensor.delay != 0) throw Unsupported{"the delayed sensor '" + name + "' may drift"};
            if (f.value) off = z3::ite(faults_.fault(i), rational(*f.value), rational(0));
        } else {
            if (f.value)
                s_.rule("fault: " + f.name, z3::implies(faults_.fault(i) && !wire, shown == rational(*f.value)));
            wire = folded_or(wire, faults_.fault(i));
        }
    }
    const z3::expr keeps = folded_or(stuck, frozen);
    if (!keeps.is_false()) {
        const z3::expr held = s_.state({StateRole::held, sensor.signal}, rational(0), "");
        s_.state_next(held, z3::ite(keeps, shown, rational(0)));
        const z3::expr shows = folded_or(stuck_before, folded_and(folded_not(stuck), frozen_before));
        s_.rule("fault: " + name + " shows what it showed", z3::implies(!wire && shows, shown == held));
    }
    return {!wire && !stuck && !frozen_before, off};
}

const Num& PhysicalWorld::reading(SensorId id) {
    if (const auto* known = find(readings_, id)) return *known;
    const Sensor& sensor = m_.sensors[id];
    const Num q = quantity(sensor.quantity);
    const std::string& name = m_.name_of(sensor.signal);
    Num r = q;
    if (sensor.accuracy != 0 || sensor.delay != 0 || faults_.may_happen(sensor.faults)) {
        r.first = r.last = s_.input({StateRole::value, sensor.signal}, ctx_.real_sort());
        const Soundness faults = soundness(sensor, r.first);
        const z3::expr sound = faults.sound.simplify();
        // A faulty sensor stands still while its quantity moves.
        if (q.moving && !sound.is_true()) s_.leap_obeys(sound || q.first == q.last);
        if (sensor.delay == 0) {
            if (q.moving) {
                r.last = r.first + (q.last - q.first);  // the same error throughout the step
                s_.follows(r.first, q.first);
            }
            const z3::expr error = r.first - q.first;
            const z3::expr most = rational(sensor.accuracy) + faults.off;
            const z3::expr near = (error <= most && error >= -most).simplify();
            s_.rule("world: accuracy of " + name, sound.is_true() ? near : z3::implies(sound, near));
        } else {
            r.moving = false;
            s_.later([this, id, q, r, sound] { delayed_reading(id, q, r, sound); });
        }
    } else {
        r = s_.part(name, q);
    }
    s_.readback().readings[id] = r;
    return readings_.emplace(id, r).first->second;
}

// A delayed reading lies within the accuracy of a value that the quantity had in the last D scans. Every use of it
// compares it with constants, so only the cell between two neighbouring constants matters: the reading may be in a
// cell if the quantity was close enough to that cell within the window. One clock a cell, no stored values.
void PhysicalWorld::delayed_reading(SensorId id, const Num& q, const Num& r, const z3::expr& sound) {
    const Sensor& sensor = m_.sensors[id];
    const std::string& name = m_.name_of(sensor.signal);
    const Cuts cuts = cuts_of(m_, sensor.signal);
    if (cuts.other_use)
        throw Unsupported{"the delayed sensor '" + name + "' is used in arithmetic, not only compared with constants"};
    const auto below = [&](const Cut& c, const z3::expr& v, const Rational& shift) {
        const z3::expr at = rational(c.at + shift);
        return c.above ? v <= at : v < at;
    };
    const long window = s_.up(sensor.delay);
    for (std::size_t cell = 0; cell <= cuts.list.size(); ++cell) {
        z3::expr in_cell = truth(true), near_first = truth(true), near_last = truth(true);
        if (cell > 0) {
            const Cut& low = cuts.list[cell - 1];
            in_cell = !below(low, r.first, 0);
            near_first = near_first && !below(low, q.first, -sensor.accuracy);
            near_last = near_last && !below(low, q.last, -sensor.accuracy);
        }
        if (cell < cuts.list.size()) {
            const Cut& high = cuts.list[cell];
            in_cell = in_cell && below(high, r.first, 0);
            near_first = near_first && below(high, q.first, sensor.accuracy);
            near_last = near_last && below(high, q.last, sensor.accuracy);
        }
        if (q.moving) s_.same(near_first, near_last);
        RunClock& away = s_.clock({StateRole::away, sensor.signal, cell}, name, !near_first, true);
        s_.rule("world: delay and accuracy of " + name,
                z3::implies(folded_and(sound, in_cell), near_first || !s_.at_least(away, window + 1)));
    }
}

}  // namespace lanyard::encode
