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
    bool right = true;
    const auto look = [&](const auto& list, const auto& things) {
        const bool may_be_empty = std::is_same_v<decltype(things), const Indexed<Fault>&>;
        right = right && (list.size() == things.size() || (may_be_empty && list.empty()));
    };
    each_choice(look, c, Chosen(plan_->model));
    if (!right) complain("shape: the choices do not match the model: they are for another number of items");
    return right;
}

void Machine::check_faults(const Choices& c) {
    const Model& m = plan_->model;
    for (const FaultId f : m.faults.ids()) {
        const Permission permission = may_be_there(f);
        const bool is_there = !c.faults.empty() && c.faults[f];
        if (is_there && !permission.may)
            complain("fault: " + m.faults[f].name + " cannot begin here: " + part().condition->name +
                     " does not allow it, or not one more");
        if (!is_there && permission.must) complain("fault: " + m.faults[f].name + " has begun and stays");
        set_fault(f, is_there);
    }
}

bool Machine::take_answer(const Choices& c, ProbeId probe, Fed a) {
    const bool chosen = c.wiring[probe];
    if (!a.allows(chosen))
        complain("wiring: " + probe_name(plan_->model, probe) + " cannot be " + on_off(chosen) + " here");
    return chosen;
}

void Machine::check_quantities() {
    const Model& m = plan_->model;
    for (const QuantityId q : m.quantities.ids()) {
        const auto& x = std::get<Rational>(at(m.quantities[q].signal));
        each_limit(q, [&](const Limit& l) {
            if (!l.allows(x)) complain(broken_text(m, q, x, l, state_.engine.mode));
        });
    }
}

void Machine::check_positions(const Choices& c) {
    const Model& m = plan_->model;
    for (const SwitchId k : m.switches.ids()) {
        const std::string& name = m.name_of(m.switches[k].position);
        const auto hand = driven(k);
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
    for (const SensorId k : m.sensors.ids()) {
        const Sensor& s = m.sensors[k];
        const Reads how = reads(k);
        if (how.fault) {
            if (how.value && c.readings[k] != *how.value)
                complain("sensor: " + m.name_of(s.signal) + " reads " + value_text(m, s.signal, c.readings[k]) +
                         ", but " + how.fault->name + " makes it read " + value_text(m, s.signal, *how.value));
            continue;
        }
        bool near = false;
        each_delayed(k, [&](const Rational& x) {
            near = abs(c.readings[k] - x) <= s.accuracy + how.off;
            return !near;
        });
        if (near) continue;
        const SignalId quantity = m.quantities[s.quantity].signal;
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
    for (const RelayId k : m.relays.ids()) {
        const RelayState& s = state_.relays[k];
        const bool moved = c.contacts[k] != s.position;
        const Permission permission = may_have_moved(k);
        if (moved ? permission.may : !permission.must) continue;
        const bool pulled = coil(k);
        complain("relay: the contact of " + m.name_of(m.relays[k].contact) + " cannot be " + on_off(c.contacts[k]) +
                 " here: it was " + on_off(s.position) + ", its coil is " + on_off(pulled) +
                 (pulled == s.position ? "" : " and has been for " + in_scans(s.disagreed) + " before this one"));
    }
}

void Machine::check_free_loads(const Choices& c) {
    const Model& m = plan_->model;
    if (!m.engine || !part().condition->healthy) return;
    for (const LoadId load : m.engine->fires_with) {
        if (m.loads[load].is_free() && !c.free_loads[load])
            complain("healthy: nothing in the model feeds " + m.name_of(m.loads[load].signal) +
                     ", which the engine fires with; in a healthy engine it always has power");
    }
}

void Machine::check_holds() {
    for (const OperationId held : part().holds) {
        if (!observers_.truth(held)) complain("condition: what " + part().condition->name + " holds is false here");
    }
}

void Machine::check_mode(Mode next) {
    if (!plan_->model.engine || next_modes()[ordinal(next)]) return;
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
    const Pick take = [this, &c](ProbeId probe, Fed a) { return take_answer(c, probe, a); };
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
