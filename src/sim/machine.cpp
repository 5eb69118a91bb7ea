#include "sim/machine.hpp"

namespace lanyard::sim {

namespace {

Value zero_of(const Type& t) {
    if (t.kind == TypeKind::number) return Rational(0);
    if (t.kind == TypeKind::mode) return Mode::stopped;
    return false;
}

void power_up_all(std::vector<ElementState>& elements, const Program& program, bool also_retained) {
    for (const int i : program.memory()) {
        const Node& n = program.node(i);
        const auto e = static_cast<std::size_t>(n.expr->element);
        if (also_retained || !program.model().elements[e].retained) elements[e] = power_up(n);
    }
}

}  // namespace

Machine::Machine(const Model& model, int condition, int claim)
    : plan_(std::make_shared<Plan>(model, condition, claim)),
      guards_(plan_->guards),
      supply_(plan_->supply),
      logic_(plan_->logic),
      observers_(plan_->observers) {
    for (const auto& s : model.signals) now_.push_back(zero_of(s.type));
    state_.last = now_;
    state_.past.resize(model.quantities.size());
    state_.relays.resize(model.relays.size());
    state_.faults.now.resize(model.faults.size());
    state_.faults.before.resize(model.faults.size());
    state_.faults.ever.resize(model.faults.size());
    state_.wiring.answers.resize(model.circuit.probes.size());
    looks_.fed.resize(model.circuit.probes.size());
    state_.wiring.driven.resize(model.outputs.size());
    state_.held.resize(model.sensors.size());
    state_.elements.resize(model.elements.size());
    for (const Program* p : {&plan_->guards, &plan_->supply, &plan_->logic, &plan_->observers}) {
        power_up_all(state_.elements, *p, true);
    }
    state_.monitor = plan_->monitor.start();
    state_.engine = stopped_for_long(part().engine);
}

void Machine::set_number(SignalId id, const Rational& x) { std::get<Rational>(at(id)) = x; }

void Machine::set_world(const std::vector<bool>& positions, const std::vector<Rational>& quantities) {
    const Model& m = plan_->model;
    for (std::size_t k = 0; k < m.switches.size(); ++k) at(m.switches[k].position) = static_cast<bool>(positions[k]);
    for (std::size_t k = 0; k < m.quantities.size(); ++k) set_number(m.quantities[k].signal, quantities[k]);
    if (m.mode >= 0) at(m.mode) = state_.engine.mode;
    if (state_.first) {
        // At scan 0 a quantity's last value is the present one.
        for (const auto& q : m.quantities) state_.last[static_cast<std::size_t>(q.signal)] = at(q.signal);
    }
    const Environment env = environment();
    guards_.run(env, 0, plan_->guards.size());
    guards_.remember(env);
    supply_.run(env, 0, plan_->supply.size());
    supply_.remember(env);
}

Permission Machine::may_be_up() const {
    return sim::may_be_up(state_.power, plan_->model.supply, supplied_, state_.first, plan_->model.scan);
}

void Machine::sample(const std::vector<bool>& missed, const std::vector<Rational>& readings) {
    const Model& m = plan_->model;
    for (std::size_t k = 0; k < m.switches.size(); ++k) {
        const Switch& s = m.switches[k];
        const Value& position = missed[k] ? state_.last[static_cast<std::size_t>(s.position)] : at(s.position);
        const bool bounced = there(s.bounced_by) && answered(ProbeKind::chatter, static_cast<int>(k));
        const bool closed = (std::get<bool>(position) != s.normally_closed || there(s.stuck_on_by)) &&
                            !there(s.stuck_off_by) && !bounced;
        at(s.seen) = closed;
    }
    for (std::size_t k = 0; k < m.sensors.size(); ++k) set_number(m.sensors[k].signal, readings[k]);
    for (const auto& l : m.loops) {
        const auto output = static_cast<std::size_t>(m.signal(l.output).index);
        at(l.signal) = state_.wiring.driven[output] && !there(l.opened_by);
    }
    for (const auto& w : m.wired_inputs)
        at(w.signal) = static_cast<bool>(state_.wiring.answers[static_cast<std::size_t>(w.probe)]);
}

void Machine::run_logic(bool up) {
    const Model& m = plan_->model;
    go_on(state_.power, supplied_, up);
    at(m.powered) = up;
    if (!up) {
        for (const SignalId id : m.order) at(id) = zero_of(m.signal(id).type);
        power_up_all(state_.elements, plan_->logic, false);
        return;
    }
    const Environment env = environment();
    int from = 0;
    for (std::size_t k = 0; k < m.order.size(); ++k) {
        const auto [node, to] = plan_->logic_nodes[k];
        logic_.run(env, from, to);
        at(m.order[k]) = logic_.value(env, node);
        from = to;
    }
    logic_.run(env, plan_->logic.early(), plan_->logic.size());
    logic_.remember(env);
}

bool Machine::is_powered(SignalId id) const {
    const Value& v = now_[static_cast<std::size_t>(id)];
    if (const auto* duty = std::get_if<Rational>(&v)) return sgn(*duty) > 0;
    return std::get<bool>(v);
}

Permission Machine::may_have_moved(int relay) const {
    const auto k = static_cast<std::size_t>(relay);
    const Relay& r = plan_->model.relays[k];
    if (there(r.slow_by)) return sim::may_have_moved(state_.relays[k], slowed(r), coil(relay), plan_->model.scan);
    return sim::may_have_moved(state_.relays[k], r, coil(relay), plan_->model.scan);
}

void Machine::drive(const std::vector<bool>& contacts, const std::vector<bool>& free_loads, const Pick& pick) {
    const Model& m = plan_->model;
    for (std::size_t k = 0; k < m.relays.size(); ++k) {
        go_on(state_.relays[k], coil(static_cast<int>(k)), contacts[k]);
        at(m.relays[k].contact) = static_cast<bool>(contacts[k]);
    }
    feed_the_rest(contacts, pick);
    for (std::size_t k = 0; k < m.loads.size(); ++k) {
        const Load& l = m.loads[k];
        bool power = l.is_free() && free_loads[k];
        for (const SignalId f : l.feeders) power = power || is_driving(f);
        if (l.probe >= 0) power = state_.wiring.answers[static_cast<std::size_t>(l.probe)];
        at(l.signal) = power;
    }
    // From here on an output is what comes of it, not what was commanded.
    for (const auto& o : m.outputs)
        if (!o.is_duty) at(o.signal) = is_driving(o.signal);
}

void Machine::observe() {
    const Environment env = environment();
    observers_.run(env, 0, plan_->observers.size());
    observers_.remember(env);
    if (plan_->model.engine) count_scan(state_.engine, part().engine, feels());
}

bool Machine::has_power(int load) const {
    return is_powered(plan_->model.loads[static_cast<std::size_t>(load)].signal);
}

EngineFeels Machine::feels() const {
    const Engine& e = *plan_->model.engine;
    EngineFeels f;
    for (const int load : e.fires_with) f.loads = f.loads && has_power(load);
    f.starter = e.cranks_with >= 0 && has_power(e.cranks_with);
    if (e.speed >= 0) {
        const SignalId id = plan_->model.quantities[static_cast<std::size_t>(e.speed)].signal;
        f.fast = std::get<Rational>(now_[static_cast<std::size_t>(id)]) > e.catches_above;
    }
    return f;
}

Modes Machine::next_modes() const {
    if (!plan_->model.engine) return {true, false, false, false};
    const EngineFeels f = feels();
    Modes may = sim::next_modes(state_.engine, part().engine, f);
    if (plan_->monitor.nobody_cranks(state_.monitor) && !f.starter)
        may[static_cast<std::size_t>(Mode::cranking)] = false;
    return may;
}

Permission Machine::claim_permission() const { return plan_->monitor.permission(state_.monitor, observers_); }

std::optional<bool> Machine::driven(int index) const {
    const auto k = static_cast<std::size_t>(index);
    if (plan_->monitor.keeps(k) && state_.monitor.begun)
        return std::get<bool>(state_.last[static_cast<std::size_t>(plan_->model.switches[k].position)]);
    return plan_->monitor.driver_position(state_.monitor, k);
}

void Machine::remember_past() {
    for (std::size_t q = 0; q < state_.past.size(); ++q) {
        const auto window = static_cast<std::size_t>(plan_->windows[q]);
        if (window == 0) continue;
        auto& past = state_.past[q];
        if (past.size() == window) past.erase(past.begin());
        past.push_back(std::get<Rational>(at(plan_->model.quantities[q].signal)));
    }
}

void Machine::end_scan(Mode next, bool claim_moves_on) {
    if (plan_->model.engine) go_to(state_.engine, part().engine, next);
    plan_->monitor.go_on(state_.monitor, observers_, claim_moves_on);
    remember_past();
    remember_wiring();
    std::swap(state_.last, now_);
    state_.first = false;
}

}  // namespace lanyard::sim
