#include "sim/machine.hpp"

namespace lanyard::sim {

namespace {

void power_up_all(Indexed<Element, ElementState>& elements, const Program& program, bool also_retained) {
    for (const OperationId i : program.memory()) {
        const Operation& o = program.operation(i);
        const ElementId e = o.expr->element;
        if (also_retained || !program.model().elements[e].retained) elements[e] = power_up(o);
    }
}

}  // namespace

Machine::Machine(const Model& model, ConditionId condition, ClaimId claim)
    : plan_(std::make_shared<Plan>(model, condition, claim)),
      signals_(model),
      faults_(model),
      controller_(model),
      relays_(model),
      sensors_(*plan_),
      guards_(plan_->guards),
      supply_(plan_->supply),
      logic_(plan_->logic),
      observers_(plan_->observers) {
    state_.wiring.answers.resize(model.circuit.probes.size());
    looks_.fed.resize(model.circuit.probes.size());
    state_.elements.resize(model.elements.size());
    for (const Program* p : plan_->programs()) {
        power_up_all(state_.elements, *p, true);
    }
    state_.monitor = plan_->monitor.start();
    state_.engine = stopped_for_long(part().engine);
}

void Machine::set_fault(FaultId fault, bool is_there) {
    faults_.set(fault, is_there, *part().condition);
    if (const SignalId id = plan_->model.faults[fault].signal) at(id) = is_there;
}

void Machine::set_number(SignalId id, const Rational& x) { std::get<Rational>(at(id)) = x; }

void Machine::set_world(const Indexed<Switch, bool>& positions, const Indexed<Quantity, Rational>& quantities) {
    const Model& m = plan_->model;
    for (const SwitchId k : m.switches.ids()) at(m.switches[k].position) = static_cast<bool>(positions[k]);
    for (const QuantityId k : m.quantities.ids()) set_number(m.quantities[k].signal, quantities[k]);
    if (m.mode) at(m.mode) = state_.engine.mode;
    if (signals_.first) {
        // At scan 0 a quantity's last value is the present one.
        for (const auto& q : m.quantities) signals_.last[q.signal] = at(q.signal);
    }
    const Environment env = environment();
    guards_.run(env, 0, plan_->guards.size());
    guards_.remember(env);
    supply_.run(env, 0, plan_->supply.size());
    supply_.remember(env);
}

void Machine::sample(const Indexed<Switch, bool>& missed, const Indexed<Sensor, Rational>& readings) {
    const Model& m = plan_->model;
    for (const SwitchId k : m.switches.ids()) {
        const Switch& s = m.switches[k];
        const Value& position = missed[k] ? signals_.last[s.position] : at(s.position);
        const bool bounced = faults_.there(s.bounced_by) && answered(ProbeKind::chatter, k);
        const bool closed = (std::get<bool>(position) != s.normally_closed || faults_.there(s.stuck_on_by)) &&
                            !faults_.there(s.stuck_off_by) && !bounced;
        at(s.seen) = closed;
    }
    for (const SensorId k : m.sensors.ids()) set_number(m.sensors[k].signal, readings[k]);
    for (const auto& l : m.loops) {
        at(l.signal) = controller_.drives(m.signal(l.output).index) && !faults_.there(l.opened_by);
    }
    for (const auto& w : m.wired_inputs) at(w.signal) = static_cast<bool>(state_.wiring.answers[w.probe]);
}

void Machine::run_logic(bool up) {
    const Model& m = plan_->model;
    at(m.powered) = up;
    if (up) {
        const Environment env = environment();
        std::size_t from = 0;
        for (std::size_t k = 0; k < m.order.size(); ++k) {
            const auto [value, to] = plan_->logic_steps[k];
            logic_.run(env, from, to);
            at(m.order[k]) = logic_.value(env, value);
            from = to;
        }
        logic_.run(env, plan_->logic.early(), plan_->logic.size());
        logic_.remember(env);
    } else {
        for (const SignalId id : m.order) at(id) = zero_of(m.signal(id).type);
        power_up_all(state_.elements, plan_->logic, false);
    }
    controller_.run(up, signals_, faults_);
}

void Machine::drive(const Indexed<Relay, bool>& contacts, const Indexed<Load, bool>& free_loads, const Pick& pick) {
    const Model& m = plan_->model;
    for (const RelayId k : m.relays.ids()) {
        relays_.move(k, contacts[k]);
        at(m.relays[k].contact) = relays_.position(k);
    }
    feed_the_rest(pick);
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
        if (l.probe) power = state_.wiring.answers[l.probe];
        at(l.signal) = power;
    }
}

void Machine::observe() {
    const Environment env = environment();
    observers_.run(env, 0, plan_->observers.size());
    observers_.remember(env);
    if (plan_->model.engine) count_scan(state_.engine, part().engine, feels());
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
    Modes may = sim::next_modes(state_.engine, part().engine, f);
    if (plan_->monitor.nobody_cranks(state_.monitor) && !f.starter) may[ordinal(Mode::cranking)] = false;
    return may;
}

std::string Machine::why_not(Mode next) const { return sim::why_not(state_.engine, part().engine, feels(), next); }

Permission Machine::claim_permission() const { return plan_->monitor.permission(state_.monitor, observers_); }

std::optional<bool> Machine::driven(SwitchId hand_switch) const {
    if (plan_->monitor.keeps(hand_switch) && state_.monitor.begun)
        return std::get<bool>(signals_.last[plan_->model.switches[hand_switch].position]);
    return plan_->monitor.driver_position(state_.monitor, hand_switch);
}

Judgement Machine::end_scan(Mode next, bool claim_moves_on) {
    if (plan_->model.engine) go_to(state_.engine, part().engine, next);
    const Judgement judgement = plan_->monitor.go_on(state_.monitor, observers_, claim_moves_on);
    sensors_.end_scan(signals_, faults_);
    faults_.end_scan();
    signals_.end_scan();
    return judgement;
}

}  // namespace lanyard::sim
