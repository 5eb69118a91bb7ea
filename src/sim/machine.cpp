#include "sim/machine.hpp"

namespace lanyard::sim {

void Machine::set_fault(FaultId fault, bool is_there) {
    faults_.set(fault, is_there, *part().condition);
    if (const SignalId id = plan_->model.faults[fault].signal) at(id) = is_there;
}

void Machine::set_world(const Indexed<Switch, bool>& positions, const Indexed<Quantity, Rational>& quantities) {
    const Model& m = plan_->model;
    for (const SwitchId k : m.switches.ids()) at(m.switches[k].position) = static_cast<bool>(positions[k]);
    for (const QuantityId k : m.quantities.ids()) std::get<Rational>(at(m.quantities[k].signal)) = quantities[k];
    if (m.mode) at(m.mode) = engine_.mode;
    if (signals_.first) {
        // At scan 0 a quantity's last value is the present one.
        for (const auto& q : m.quantities) signals_.last[q.signal] = at(q.signal);
    }
    programs_.see_world(signals_);
}

void Machine::feed_controller(const Pick& pick) {
    wires_.feed_controller(ends(), pick);
    const Model& m = plan_->model;
    const auto lost = [&](ProbeId probe, bool lost_when) { return probe && wires_.answer(probe) == lost_when; };
    controller_.supply(programs_.supply_is_on() && !faults_.there(m.supply.dead_by) &&
                       !lost(m.circuit.supply_probe, false) && !lost(m.circuit.reset_probe, true));
}

void Machine::sample(const Indexed<Switch, bool>& missed, const Indexed<Sensor, Rational>& readings) {
    const Model& m = plan_->model;
    for (const SwitchId k : m.switches.ids()) {
        const Switch& s = m.switches[k];
        const Value& position = missed[k] ? signals_.last[s.position] : at(s.position);
        const bool bounced = faults_.there(s.bounced_by) && wires_.answer(ProbeKind::chatter, k);
        const bool closed = (std::get<bool>(position) != s.normally_closed || faults_.there(s.stuck_on_by)) &&
                            !faults_.there(s.stuck_off_by) && !bounced;
        at(s.seen) = closed;
    }
    for (const SensorId k : m.sensors.ids()) std::get<Rational>(at(m.sensors[k].signal)) = readings[k];
    for (const auto& l : m.loops)
        at(l.signal) = controller_.drives(m.signal(l.output).index) && !faults_.there(l.opened_by);
    for (const auto& w : m.wired_inputs) at(w.signal) = wires_.answer(w.probe);
}

void Machine::run_logic(bool up) {
    at(plan_->model.powered) = up;
    up ? programs_.run_logic(signals_) : programs_.power_down(signals_);
    controller_.run(up, signals_, faults_);
}

void Machine::energise_coils(const Pick& pick) {
    wires_.energise_coils(ends(), pick);
    const Model& m = plan_->model;
    for (const RelayId k : m.relays.ids()) {
        const Relay& r = m.relays[k];
        const bool on = r.coil_probe ? wires_.answer(r.coil_probe) : controller_.drives(m.signal(r.coil).index);
        relays_.energise(k, on, faults_);
    }
}

void Machine::drive(const Indexed<Relay, bool>& contacts, const Indexed<Load, bool>& free_loads, const Pick& pick) {
    const Model& m = plan_->model;
    for (const RelayId k : m.relays.ids()) {
        relays_.move(k, contacts[k]);
        at(m.relays[k].contact) = relays_.position(k);
    }
    wires_.feed_the_rest(ends(), pick);
    const Circuit& c = m.circuit;
    for (const ProbeId p : c.probes.ids())
        if (c.probes[p].kind == ProbeKind::node) at(c.nodes[c.probes[p].index].signal) = wires_.answer(p);
    // From here on an output is what comes of it, not what was commanded.
    for (const OutputId k : m.outputs.ids())
        if (!m.outputs[k].is_duty) at(m.outputs[k].signal) = controller_.drives(k);
    const auto feeds = [&](SignalId id) {
        const Signal& s = m.signal(id);
        return s.kind == SignalKind::output ? controller_.drives(s.index) : signals_.on(id);
    };
    for (const LoadId k : m.loads.ids()) {
        const Load& l = m.loads[k];
        bool power = l.is_free() && free_loads[k];
        for (const SignalId f : l.feeders) power = power || feeds(f);
        if (l.probe) power = wires_.answer(l.probe);
        at(l.signal) = power;
    }
}

void Machine::observe() {
    programs_.observe(signals_);
    if (plan_->model.engine) count_scan(engine_, part().engine, feels());
}

EngineFeels Machine::feels() const {
    const Model& m = plan_->model;
    const Engine& e = *m.engine;
    const auto has_power = [&](LoadId load) { return signals_.on(m.loads[load].signal); };
    EngineFeels f;
    for (const LoadId load : e.fires_with) f.loads = f.loads && has_power(load);
    f.starter = e.cranks_with && has_power(e.cranks_with);
    if (e.speed) f.fast = signals_.number(m.quantities[e.speed].signal) > e.catches_above;
    return f;
}

Modes Machine::next_modes() const {
    if (!plan_->model.engine) return {true, false, false, false};
    const EngineFeels f = feels();
    Modes may = sim::next_modes(engine_, part().engine, f);
    if (plan_->monitor.nobody_cranks(monitor_) && !f.starter) may[ordinal(Mode::cranking)] = false;
    return may;
}

std::string Machine::why_not(Mode next) const { return sim::why_not(engine_, part().engine, feels(), next); }

Permission Machine::claim_permission() const { return plan_->monitor.permission(monitor_, programs_.observers()); }

std::optional<bool> Machine::driven(SwitchId hand_switch) const {
    if (plan_->monitor.keeps(hand_switch) && monitor_.begun)
        return std::get<bool>(signals_.last[plan_->model.switches[hand_switch].position]);
    return plan_->monitor.driver_position(monitor_, hand_switch);
}

Judgement Machine::end_scan(Mode next, bool claim_moves_on) {
    if (plan_->model.engine) go_to(engine_, part().engine, next);
    const Judgement judgement = plan_->monitor.go_on(monitor_, programs_.observers(), claim_moves_on);
    sensors_.end_scan(signals_, faults_);
    faults_.end_scan();
    signals_.end_scan();
    return judgement;
}

// What no rule reads any more is left out, clocks stand still at the last bound that matters to them.
std::string Machine::state_text() const {
    const Model& m = plan_->model;
    const auto bit = [](bool b) { return b ? '1' : '0'; };
    std::string text = signals_.first ? "first " : "later ";
    text += mode_name(engine_.mode);
    for (const long n : {engine_.fuelled, engine_.lost, engine_.coasting, engine_.since_firing, engine_.since_turned})
        text += ' ' + std::to_string(n);
    text += " | ";
    if (!signals_.first) {
        for (const SignalId id : plan_->remembered) append_text(text, signals_.last[id]);
    }
    text += "| ";
    sensors_.append_past(text);
    relays_.append_text(text);
    text += "| ";
    controller_.append_text(text);
    text += " | ";
    programs_.append_text(text);
    faults_.append_text(text);
    sensors_.append_held(text, faults_);
    // What the next scan's first look at the wiring finds
    if (m.circuit.exists()) {
        for (const OutputId k : m.outputs.ids()) text += bit(controller_.drives(k));
    }
    for (const auto& l : m.loops) text += bit(controller_.drives(m.signal(l.output).index));
    wires_.append_text(text);
    if (m.circuit.exists()) text += bit(controller_.is_up());
    text += ' ';
    plan_->monitor.append_text(text, monitor_);
    return text;
}

}  // namespace lanyard::sim
