// Plays a scan with given choices and complains about the first of them that the world or the condition forbids. It
// knows of the machine what everybody may know.
#include "circuit/words.hpp"
#include "sim/machine.hpp"
#include "sim/words.hpp"

namespace lanyard::sim {

namespace {

const char* on_off(bool b) { return b ? "on" : "off"; }

std::string in_scans(long n) { return std::to_string(n) + (n == 1 ? " scan" : " scans"); }

// Each function is about one thing that was chosen, and is asked when the machine has played up to where it matters.
class Complaints {
 public:
    Complaints(const Machine& machine, const Choices& choices) : now_(machine), m_(machine.plan().model), c_(choices) {}
    // The first one; empty: none.
    const std::string& first() const { return first_; }

    bool shape() {
        bool right = true;
        const auto look = [&](const auto& list, const auto& things) {
            const bool may_be_empty = std::is_same_v<decltype(things), const Indexed<Fault>&>;
            right = right && (list.size() == things.size() || (may_be_empty && list.empty()));
        };
        each_choice(look, c_, Chosen(m_));
        if (!right) say("shape: the choices do not match the model: they are for another number of items");
        return right;
    }

    void fault(FaultId f, bool is_there) {
        const Permission permission = now_.may_be_there(f);
        if (is_there && !permission.may)
            say("fault: " + m_.faults[f].name + " cannot begin here: " + condition().name +
                " does not allow it, or not one more");
        if (!is_there && permission.must) say("fault: " + m_.faults[f].name + " has begun and stays");
    }

    bool answer(ProbeId probe, Fed a) {
        const bool chosen = c_.wiring[probe];
        if (!a.allows(chosen)) say("wiring: " + probe_name(m_, probe) + " cannot be " + on_off(chosen) + " here");
        return chosen;
    }

    void quantities() {
        for (const QuantityId q : m_.quantities.ids()) {
            const Rational& x = now_.signals().number(m_.quantities[q].signal);
            now_.each_limit(q, [&](const Limit& l) {
                if (!l.allows(x)) say(broken_text(m_, q, x, l, now_.state().engine.mode));
            });
        }
    }

    void positions() {
        for (const SwitchId k : m_.switches.ids()) {
            const std::string& name = m_.name_of(m_.switches[k].position);
            const bool kept = now_.plan().monitor.keeps(k);
            const auto hand = now_.driven(k);
            if (hand && *hand != c_.positions[k])
                say(std::string("driver: ") + (kept ? "nobody touches " : "the procedure has ") + name +
                    (kept ? ", which was " : " ") + on_off(*hand) + " here, the run has it " + on_off(c_.positions[k]));
            if (!c_.missed[k]) continue;
            if (!m_.switches[k].may_be_missed) say("missed change: " + name + " may not be missed");
            if (now_.signals().first)
                say("missed change: at the first scan nothing has changed that " + name + " could miss");
        }
    }

    void readings() {
        for (const SensorId k : m_.sensors.ids()) {
            const Sensor& s = m_.sensors[k];
            const Sensors::Reads how = now_.reads(k);
            if (how.fault) {
                if (how.value && c_.readings[k] != *how.value)
                    say("sensor: " + m_.name_of(s.signal) + " reads " + value_text(m_, s.signal, c_.readings[k]) +
                        ", but " + how.fault->name + " makes it read " + value_text(m_, s.signal, *how.value));
                continue;
            }
            bool near = false;
            now_.each_delayed(k, [&](const Rational& x) {
                near = abs(c_.readings[k] - x) <= s.accuracy + how.off;
                return !near;
            });
            if (near) continue;
            const SignalId quantity = m_.quantities[s.quantity].signal;
            const Rational& x = now_.signals().number(quantity);
            const long delay = now_.plan().delays[k];
            say("sensor: " + m_.name_of(s.signal) + " reads " + value_text(m_, s.signal, c_.readings[k]) + ", but " +
                m_.name_of(quantity) + " is " + value_text(m_, quantity, x) + "; its accuracy is " +
                difference_text(m_, s.signal, s.accuracy) +
                (delay > 0 ? ", and in the previous " + in_scans(delay) + " it was not that near either" : ""));
        }
    }

    void contacts() {
        for (const RelayId k : m_.relays.ids()) {
            const bool position = now_.relays().position(k), pulled = now_.relays().pulls(k);
            const bool moved = c_.contacts[k] != position;
            const Permission permission = now_.may_have_moved(k);
            if (moved ? permission.may : !permission.must) continue;
            say("relay: the contact of " + m_.name_of(m_.relays[k].contact) + " cannot be " + on_off(c_.contacts[k]) +
                " here: it was " + on_off(position) + ", its coil is " + on_off(pulled) +
                (pulled == position
                     ? ""
                     : " and has been for " + in_scans(now_.relays().disagreed(k)) + " before this one"));
        }
    }

    void free_loads() {
        if (!m_.engine || !condition().healthy) return;
        for (const LoadId load : m_.engine->fires_with) {
            if (m_.loads[load].is_free() && !c_.free_loads[load])
                say("healthy: nothing in the model feeds " + m_.name_of(m_.loads[load].signal) +
                    ", which the engine fires with; in a healthy engine it always has power");
        }
    }

    void holds() {
        for (const OperationId held : now_.part().holds) {
            if (!now_.observed(held)) say("condition: what " + condition().name + " holds is false here");
        }
    }

    void mode() {
        if (m_.engine && !now_.next_modes()[ordinal(c_.next_mode)]) say(now_.why_not(c_.next_mode));
    }

 private:
    void say(const std::string& rule) {
        if (first_.empty()) first_ = rule;
    }
    const Condition& condition() const { return *now_.part().condition; }

    const Machine& now_;
    const Model& m_;
    const Choices& c_;
    std::string first_;
};

}  // namespace

Scan step(Machine& machine, const Choices& c) {
    Complaints complaints(machine, c);
    if (!complaints.shape()) return {machine.signals().now, complaints.first()};
    const Pick take = [&complaints](ProbeId probe, Fed a) { return complaints.answer(probe, a); };
    for (const FaultId f : machine.plan().model.faults.ids()) {
        const bool is_there = !c.faults.empty() && c.faults[f];
        complaints.fault(f, is_there);
        machine.set_fault(f, is_there);
    }
    complaints.positions();
    machine.set_world(c.positions, c.quantities);
    complaints.quantities();
    machine.feed_controller(take);
    complaints.readings();
    machine.sample(c.missed, c.readings);
    machine.run_logic(machine.may_be_up().taken(c.booted));
    machine.energise_coils(take);
    complaints.contacts();
    complaints.free_loads();
    machine.drive(c.contacts, c.free_loads, take);
    machine.observe();
    complaints.holds();
    complaints.mode();
    const Judgement j = machine.end_scan(c.next_mode, machine.claim_permission().taken(c.claim_moves_on));
    return {machine.signals().last, complaints.first(), j.violated, j.demanded, j.goal};
}

}  // namespace lanyard::sim
