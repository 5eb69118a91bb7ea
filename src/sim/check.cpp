// Plays a scan with given choices and complains about the first of them that the world or the condition forbids.
#include "circuit/words.hpp"
#include "sim/machine.hpp"
#include "sim/words.hpp"

namespace lanyard::sim {

namespace {

const char* on_off(bool b) { return b ? "on" : "off"; }

std::string in_scans(long n) { return std::to_string(n) + (n == 1 ? " scan" : " scans"); }

}  // namespace

void Machine::complain(const std::string& rule) {
    if (broken_.empty()) broken_ = rule;
}

bool Machine::shape_is_right(const Choices& c) {
    const Model& m = plan_->model;
    const bool right = c.quantities.size() == m.quantities.size() && c.positions.size() == m.switches.size() &&
                       c.missed.size() == m.switches.size() && c.readings.size() == m.sensors.size() &&
                       c.contacts.size() == m.relays.size() && c.free_loads.size() == m.loads.size() &&
                       c.wiring.size() == m.circuit.probes.size() &&
                       (c.faults.empty() || c.faults.size() == m.faults.size());
    if (!right) complain("shape: the choices do not match the model: they are for another number of items");
    return right;
}

void Machine::check_faults(const Choices& c) {
    const Model& m = plan_->model;
    for (std::size_t f = 0; f < m.faults.size(); ++f) {
        const Permission permission = may_be_there(static_cast<int>(f));
        const bool is_there = !c.faults.empty() && c.faults[f];
        if (is_there && !permission.may)
            complain("fault: " + m.faults[f].name + " cannot begin here: " + part().condition->name +
                     " does not allow it, or not one more");
        if (!is_there && permission.must) complain("fault: " + m.faults[f].name + " has begun and stays");
        set_fault(static_cast<int>(f), is_there);
    }
}

bool Machine::take_answer(const Choices& c, int probe, Fed a) {
    const bool chosen = c.wiring[static_cast<std::size_t>(probe)];
    if (!a.allows(chosen))
        complain("wiring: " + probe_name(plan_->model, probe) + " cannot be " + on_off(chosen) + " here");
    return chosen;
}

void Machine::check_quantities() {
    const Model& m = plan_->model;
    for (std::size_t q = 0; q < m.quantities.size(); ++q) {
        const auto& x = std::get<Rational>(at(m.quantities[q].signal));
        each_limit(static_cast<int>(q), [&](const Limit& l) {
            if (!l.allows(x)) complain(broken_text(m, static_cast<int>(q), x, l, state_.engine.mode));
        });
    }
}

void Machine::check_positions(const Choices& c) {
    const Model& m = plan_->model;
    for (std::size_t k = 0; k < m.switches.size(); ++k) {
        const std::string& name = m.name_of(m.switches[k].position);
        const auto hand = driven(static_cast<int>(k));
        if (hand && *hand != c.positions[k])
            complain(std::string("driver: ") + (plan_->monitor.keeps(k) ? "nobody touches " : "the procedure has ") +
                     name + (plan_->monitor.keeps(k) ? ", which was " : " ") + on_off(*hand) +
                     " here, the run has it " + on_off(c.positions[k]));
        if (!c.missed[k]) continue;
        if (!m.switches[k].may_be_missed) complain("missed change: " + name + " may not be missed");
        if (state_.first) complain("missed change: at the first scan nothing has changed that " + name + " could miss");
    }
}

void Machine::check_readings(const Choices& c) {
    const Model& m = plan_->model;
    for (std::size_t k = 0; k < m.sensors.size(); ++k) {
        const Sensor& s = m.sensors[k];
        const Reads how = reads(static_cast<int>(k));
        if (how.fault) {
            if (how.value && c.readings[k] != *how.value)
                complain("sensor: " + m.name_of(s.signal) + " reads " + value_text(m, s.signal, c.readings[k]) +
                         ", but " + how.fault->name + " makes it read " + value_text(m, s.signal, *how.value));
            continue;
        }
        bool near = false;
        each_delayed(static_cast<int>(k), [&](const Rational& x) {
            near = abs(c.readings[k] - x) <= s.accuracy + how.off;
            return !near;
        });
        if (near) continue;
        const SignalId quantity = m.quantities[static_cast<std::size_t>(s.quantity)].signal;
        const Rational& x = std::get<Rational>(at(quantity));
        const long delay = plan_->delays[k];
        complain("sensor: " + m.name_of(s.signal) + " reads " + value_text(m, s.signal, c.readings[k]) + ", but " +
                 m.name_of(quantity) + " is " + value_text(m, quantity, x) + "; its accuracy is " +
                 difference_text(m, s.signal, s.accuracy) +
                 (delay > 0 ? ", and in the previous " + in_scans(delay) + " it was not that near either" : ""));
    }
}

void Machine::check_contacts(const Choices& c) {
    const Model& m = plan_->model;
    for (std::size_t k = 0; k < m.relays.size(); ++k) {
        const RelayState& s = state_.relays[k];
        const bool moved = c.contacts[k] != s.position;
        const Permission permission = may_have_moved(static_cast<int>(k));
        if (moved ? permission.may : !permission.must) continue;
        const bool pulled = coil(static_cast<int>(k));
        complain("relay: the contact of " + m.name_of(m.relays[k].contact) + " cannot be " + on_off(c.contacts[k]) +
                 " here: it was " + on_off(s.position) + ", its coil is " + on_off(pulled) +
                 (pulled == s.position ? "" : " and has been for " + in_scans(s.disagreed) + " before this one"));
    }
}

void Machine::check_free_loads(const Choices& c) {
    const Model& m = plan_->model;
    if (!m.engine || !part().condition->healthy) return;
    for (const int load : m.engine->fires_with) {
        const auto k = static_cast<std::size_t>(load);
        if (m.loads[k].is_free() && !c.free_loads[k])
            complain("healthy: nothing in the model feeds " + m.name_of(m.loads[k].signal) +
                     ", which the engine fires with; in a healthy engine it always has power");
    }
}

void Machine::check_holds() {
    for (const int node : part().hold_nodes) {
        if (!observers_.truth(node)) complain("condition: what " + part().condition->name + " holds is false here");
    }
}

void Machine::check_mode(Mode next) {
    if (!plan_->model.engine || next_modes()[static_cast<std::size_t>(next)]) return;
    complain(why_not(state_.engine, part().engine, feels(), next));
}

Scan Machine::step(const Choices& c) {
    Scan scan;
    broken_.clear();
    if (!shape_is_right(c)) {
        scan.signals = now_;
        scan.broken_rule = broken_;
        return scan;
    }
    const Pick take = [this, &c](int probe, Fed a) { return take_answer(c, probe, a); };
    check_faults(c);
    check_positions(c);
    set_world(c.positions, c.quantities);
    check_quantities();
    feed_controller(take);
    check_readings(c);
    sample(c.missed, c.readings);
    run_logic(may_be_up().taken(c.booted));
    energise_coils(take);
    check_contacts(c);
    check_free_loads(c);
    drive(c.contacts, c.free_loads, take);
    observe();
    check_holds();
    check_mode(c.next_mode);
    scan.signals = now_;
    const bool moves_on = claim_permission().taken(c.claim_moves_on);
    const Judgement j = plan_->monitor.judge(state_.monitor, observers_, moves_on);
    scan.violated = j.violated;
    scan.demanded = j.demanded;
    scan.goal = j.goal;
    scan.broken_rule = broken_;
    end_scan(c.next_mode, moves_on);
    return scan;
}

}  // namespace lanyard::sim
