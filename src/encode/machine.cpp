// The controller's power, relays, loads and the engine.
#include "encode/encoder.hpp"
#include "encode/folded.hpp"

namespace lanyard {

z3::expr Encoder::powered() {
    if (powered_) return *powered_;
    z3::expr on = folded_not(faults_.any(m_.supply.dead_by));
    if (m_.supply.on) on = folded_and(on, boolean(*m_.supply.on, {"supply", false}));
    if (m_.circuit.supply_probe) on = folded_and(on, answer(m_.circuit.supply_probe));
    on = folded_and(on, folded_not(asked(ProbeKind::reset, {})));
    const Interval& boots = m_.supply.boots_in;
    if (boots.hi == 0 || on.is_true()) {
        powered_ = on.is_true() ? on : part("supply", on);
        return *powered_;
    }
    // `up`: had power at the previous scan; at scan 0 a supply that is on counts as booted.
    const z3::expr up_before = state({StateRole::up, Whole::supply}, truth(true), "supply");
    const z3::expr waiting = on && !up_before;
    RunClock& c = clock({StateRole::booting, Whole::supply}, "supply", waiting, false);
    const z3::expr may = at_least(c, up(boots.lo) + 1);
    const z3::expr must = at_least(c, up(boots.hi) + 1);
    const z3::expr choice = input({StateRole::booted, Whole::supply}, ctx_.bool_sort());
    readback().booted = choice;
    powered_ = part("supply", on && (up_before || must || (may && choice)));
    c.resets = *powered_;
    state_next(up_before, *powered_);
    return *powered_;
}

z3::expr Encoder::signal(SignalId id) {
    const auto found = signals_.find(id);
    if (found != signals_.end()) return found->second;
    const Signal& s = m_.signal(id);
    z3::expr value = truth(false);
    switch (s.kind) {
        case SignalKind::position:
            value = position(s.index);
            break;
        case SignalKind::seen:
            value = part(s.name, seen(s.index));
            break;
        case SignalKind::loop:
            value = folded_and(last(m_.loops[s.index].output), folded_not(faults_.any(m_.loops[s.index].opened_by)));
            value = part(s.name, value);
            break;
        case SignalKind::wired:
            value = part(s.name, answer(m_.wired_inputs[s.index].probe));
            break;
        case SignalKind::node:
            value = asked(ProbeKind::node, s.index);
            break;
        case SignalKind::fault:
            value = faults_.fault(s.index);
            break;
        case SignalKind::logic:
            value = named(id, folded_and(powered(), boolean(*m_.logic[s.index].is, {s.name, true})));
            break;
        case SignalKind::output:
            value = named(id, folded_and(powered(), boolean(*m_.outputs[s.index].on, {s.name, true})));
            break;
        case SignalKind::contact:
            value = part(s.name, contact(s.index));
            break;
        case SignalKind::load:
            value = part(s.name, load(s.index));
            break;
        case SignalKind::powered:
            value = powered();
            break;
        case SignalKind::quantity:
        case SignalKind::reading:
        case SignalKind::mode:
            throw Unsupported{"'" + s.name + "' is not a Boolean"};
    }
    signals_.emplace(id, value);
    return value;
}

Num Encoder::signal_number(SignalId id) {
    const Signal& s = m_.signal(id);
    if (s.kind == SignalKind::quantity) return quantity(s.index);
    if (s.kind == SignalKind::reading) return reading(s.index);
    const auto found = numbers_.find(id);
    if (found != numbers_.end()) return found->second;
    if (s.kind != SignalKind::logic && s.kind != SignalKind::output)
        throw Unsupported{"'" + s.name + "' is not a number"};
    Num n = number(s.kind == SignalKind::logic ? *m_.logic[s.index].is : *m_.outputs[s.index].on, {s.name, true});
    if (loses_power()) {
        n.first = z3::ite(powered(), n.first, rational(0));
        n.last = z3::ite(powered(), n.last, rational(0));
    }
    if (options_.named && !n.moving) n.first = n.last = named(id, n.first);
    if (n.moving) n = part(s.name, n);
    return numbers_.emplace(id, n).first->second;
}

z3::expr Encoder::on(SignalId id) {
    if (m_.signal(id).type.kind != TypeKind::number) return signal(id);
    const z3::expr zero = rational(0);
    return compare(Op::gt, signal_number(id), Num{zero, zero, false});
}

z3::expr Encoder::driving(SignalId id) {
    const Signal& s = m_.signal(id);
    if (s.kind != SignalKind::output) return on(id);
    const Output& o = m_.outputs[s.index];
    return folded_or(faults_.any(o.stuck_on_by), folded_and(on(id), folded_not(faults_.any(o.stuck_off_by))));
}

z3::expr Encoder::last(SignalId id) {
    const auto found = last_.find(id);
    if (found != last_.end()) return found->second;
    const z3::expr before = state({StateRole::last, id}, truth(false), m_.name_of(id));
    last_.emplace(id, before);
    later([this, id, before] { state_next(before, driving(id)); });
    return before;
}

// The coil as its own relay feels it.
z3::expr Encoder::pulls(RelayId id) {
    const Relay& relay = m_.relays[id];
    const z3::expr energised = relay.coil_probe ? answer(relay.coil_probe) : driving(relay.coil);
    return folded_and(energised, folded_not(faults_.any(relay.never_pulls_by)));
}

z3::expr Encoder::found_before(RelayId relay) {
    const auto found = closed_before_.find(relay);
    if (found != closed_before_.end()) return found->second;
    const SignalId id = m_.relays[relay].contact;
    const z3::expr closed = state({StateRole::closed, id}, truth(false), m_.name_of(id));
    later([this, id, closed] { state_next(closed, signal(id)); });
    return closed_before_.emplace(relay, closed).first->second;
}

// Coil and contact disagree: found moved as early as the shortest time allows, at the latest after the longest. A weld
// holds what has been closed.
z3::expr Encoder::contact(RelayId id) {
    const Relay& relay = m_.relays[id];
    const std::string& name = m_.name_of(relay.contact);
    const bool ideal = relay.pulls_in.hi == 0 && relay.drops_out.hi == 0 && !faults_.may_happen(relay.slow_by);
    z3::expr wants = pulls(id);
    if (faults_.may_happen(relay.welded_by))
        wants = folded_or(wants, folded_and(faults_.any(relay.welded_by), found_before(id)));
    wants_.emplace(id, wants);
    z3::expr found = wants;
    if (!ideal) {
        const z3::expr closed = found_before(id);
        RunClock& c = clock({StateRole::transit, relay.contact}, name, wants != closed, false);
        const z3::expr choice = input({StateRole::moves, relay.contact}, ctx_.bool_sort());
        const auto moves = [&](const Interval& t) {
            z3::expr must = at_least(c, up(t.hi) + 1);
            for (const FaultId f : relay.slow_by) {
                const auto& takes = m_.faults[f].value;
                if (!faults_.may_happen(f) || !takes || *takes <= t.hi) continue;
                must = folded_and(must, folded_not(faults_.fault(f))) || at_least(c, up(*takes) + 1);
            }
            return must || (at_least(c, up(t.lo) + 1) && choice);
        };
        const z3::expr moved = wants != closed && z3::ite(wants, moves(relay.pulls_in), moves(relay.drops_out));
        c.resets = moved;
        found = z3::ite(moved, wants, closed);
    }
    readback().contacts[id] = found;
    return found;
}

z3::expr Encoder::load(LoadId id) {
    const Load& l = m_.loads[id];
    if (!l.feeders.empty()) {
        z3::expr_vector any(ctx_);
        for (SignalId f : l.feeders) any.push_back(driving(f));
        return any_of(any);
    }
    if (l.probe) return answer(l.probe);
    const std::string& name = m_.name_of(l.signal);
    const z3::expr free = input({StateRole::value, l.signal}, ctx_.bool_sort());
    readback().free_loads[id] = free;
    if (m_.engine)
        for (const LoadId f : m_.engine->fires_with)
            if (f == id) conditions_.healthy_rule("healthy: " + name + " has power", free);
    return free;
}

z3::expr Encoder::in_mode(Mode m) {
    engine();
    const std::size_t bits = ordinal(m);
    const z3::expr high = (bits & 2) != 0 ? mode_->first : !mode_->first;
    const z3::expr low = (bits & 1) != 0 ? mode_->second : !mode_->second;
    return high && low;
}

void Encoder::engine() {
    if (mode_) return;
    if (!m_.engine) throw Unsupported{"the model has no engine"};
    // stopped 00, cranking 01, running 10, coasting 11
    const z3::expr high = state({StateRole::high, Whole::engine}, truth(false), "engine");
    const z3::expr low = state({StateRole::low, Whole::engine}, truth(false), "engine");
    mode_ = {high, low};
    const z3::expr next_high = input({StateRole::next_high, Whole::engine}, ctx_.bool_sort());
    const z3::expr next_low = input({StateRole::next_low, Whole::engine}, ctx_.bool_sort());
    state_next(high, next_high);
    state_next(low, next_low);
    readback().next_mode = {next_high, next_low};
    later([this] { engine_moves(); });
}

void Encoder::engine_moves() {
    const Engine& e = *m_.engine;
    const bool healthy = conditions_.ever_healthy();
    const auto [next_high, next_low] = *readback().next_mode;
    const z3::expr to_stopped = !next_high && !next_low, to_cranking = !next_high && next_low;
    const z3::expr to_running = next_high && !next_low, to_coasting = next_high && next_low;
    const z3::expr cranking = in_mode(Mode::cranking), running = in_mode(Mode::running);
    const z3::expr coasting = in_mode(Mode::coasting);

    z3::expr_vector loads(ctx_);
    for (const LoadId l : e.fires_with) loads.push_back(signal(m_.loads[l].signal));
    const z3::expr fed = all_of(loads);
    const bool free_starter = !e.cranks_with;
    const z3::expr starter = free_starter ? truth(true) : signal(m_.loads[e.cranks_with].signal);

    RunClock& firing = clock({StateRole::firing, Whole::engine}, "engine", cranking && fed, false);
    const z3::expr fire_may = at_least(firing, std::max(1L, up(e.firing_time.lo)));
    const z3::expr fire_must = healthy ? at_least(firing, std::max(1L, up(e.firing_time.hi))) : truth(false);

    // stopped
    const z3::expr crank = starter || truth(e.push_start);
    const z3::expr crank_must = healthy && !free_starter ? starter : truth(false);
    rule("world: engine leaves stopped by cranking only",
         z3::implies(in_mode(Mode::stopped), to_stopped || (to_cranking && crank)));
    conditions_.healthy_rule("healthy: engine turns with the starter",
                             z3::implies(in_mode(Mode::stopped) && crank_must, to_cranking));

    // cranking
    const z3::expr stay = free_starter || e.push_start ? truth(true) : starter;
    const z3::expr stop = free_starter ? truth(true) : !starter;
    rule("world: engine fires only with all its loads for the shortest firing time",
         z3::implies(cranking, (to_running && fire_may) || (to_cranking && stay) || (to_stopped && stop)));
    conditions_.healthy_rule("healthy: engine fires at the latest after the longest firing time",
                             z3::implies(cranking && fire_must, to_running));

    // running
    RunClock& lost = clock({StateRole::lost, Whole::engine}, "engine", running && !fed, false);
    const z3::expr coast_may = healthy ? at_least(lost, std::max(1L, up(e.run_on.lo))) : truth(true);
    const z3::expr coast_must = at_least(lost, std::max(1L, up(e.run_on.hi)));
    rule("world: engine runs on only with its loads", z3::implies(running, (to_running && !coast_must) || to_coasting));
    conditions_.healthy_rule("healthy: engine does not stall",
                             z3::implies(running && to_coasting, coast_may || coast_must));

    // coasting
    RunClock& coast = clock({StateRole::coast, Whole::engine}, "engine", coasting, false);
    const z3::expr stop_may = healthy ? at_least(coast, std::max(1L, up(e.coast_down.lo))) : truth(true);
    z3::expr catches = fed;
    if (e.speed) {
        const Num speed = quantity(e.speed);
        const z3::expr limit = rational(e.catches_above);
        catches = fed && compare(Op::gt, speed, Num{limit, limit, false});
    }
    rule("world: engine leaves coasting by stopping, catching or cranking",
         z3::implies(coasting, to_coasting || to_stopped || (to_running && catches) || (to_cranking && starter)));
    if (healthy) {
        conditions_.healthy_rule("healthy: coast-down is not shorter than its shortest time",
                                 z3::implies(coasting && to_stopped, stop_may));
        conditions_.healthy_rule(
            "healthy: coast-down ends at the latest after its longest time",
            z3::implies(coasting && at_least(coast, std::max(1L, up(e.coast_down.hi))), !to_coasting));
    }
}

z3::expr Encoder::since_fired(const Rational& t) {
    if (!fired_)
        fired_ = &clock({StateRole::since_firing, Whole::engine}, "engine",
                        in_mode(Mode::running) || in_mode(Mode::coasting), false);
    return at_least(*fired_, up(t) + 1);
}

z3::expr Encoder::since_turned(const Rational& t) {
    if (!turned_)
        turned_ = &clock({StateRole::since_running, Whole::engine}, "engine",
                         in_mode(Mode::stopped) || in_mode(Mode::cranking), true);
    return at_least(*turned_, up(t));
}

}  // namespace lanyard
