// One scan of the model, stage by stage, in the order in which things happen: world, supply, sample, logic, drive,
// observe, engine. `step` plays the stages with given choices and complains (check.cpp); the world (world.hpp) plays
// them on a copy to see what it may choose. Not for use outside sim.
#pragma once

#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "claims/run.hpp"
#include "model/model.hpp"
#include "sim/engine.hpp"
#include "sim/evaluate.hpp"
#include "sim/interpreter.hpp"
#include "sim/limits.hpp"
#include "sim/monitor.hpp"
#include "sim/transit.hpp"
#include "sim/wiring.hpp"

namespace lanyard::sim {

// What one condition asks for.
struct Part {
    const Condition* condition;
    EngineRules engine;
    Indexed<Quantity, QuantityRules> quantities;
    std::vector<OperationId> holds;
};

// Everything about model, condition and claim that does not change while a run goes on.
struct Plan {
    Plan(const Model& model, ConditionId condition, ClaimId claim);

    const Model& model;
    std::vector<Part> parts;            // one; two where the claim has a second part, under a condition of its own
    Program guards;                     // `when` of the guarded lines
    Program supply;                     //
    Program logic;                      // logic and outputs
    Program observers;                  // what the condition holds, the claim
    OperationId supply_on;              // in supply
    Indexed<Source, OperationId> live;  // in guards; none: always live
    // Per signal of Model::order: its value, where its operations end.
    std::vector<std::pair<OperationId, std::size_t>> logic_steps;
    Monitor monitor;
    Indexed<Sensor, long> delays;      // scans
    Indexed<Quantity, long> windows;   // past scans that some sensor may still show
    std::vector<SignalId> remembered;  // signals whose last value matters
};

struct State {
    bool first = true;  // scan 0 is yet to come
    EngineState engine;
    Indexed<Signal, Value> last;                    // of the scan before
    Indexed<Quantity, std::vector<Rational>> past;  // as far as a sensor may show it: oldest first
    Indexed<Relay, RelayState> relays;
    FaultState faults;
    WiringState wiring;
    Indexed<Sensor, Rational> held;  // what a stuck one reads
    PowerState power;
    Indexed<Element, ElementState> elements;
    MonitorState monitor;
};

class Machine {
 public:
    Machine(const Model& model, ConditionId condition, ClaimId claim);

    std::string state_text() const;

    const Plan& plan() const { return *plan_; }
    const State& state() const { return state_; }
    // What is obeyed at the coming scan.
    const Part& part() const { return plan_->parts[plan_->parts.size() > 1 && state_.monitor.begun ? 1 : 0]; }
    const Indexed<Signal, Value>& now() const { return now_; }
    const Looks& looks() const { return looks_; }

    // --- the stages ---
    Permission may_be_there(FaultId fault) const;  // given those that were set already
    void set_fault(FaultId fault, bool is_there);
    void set_world(const Indexed<Switch, bool>& positions, const Indexed<Quantity, Rational>& quantities);
    template <class F>
    void each_limit(QuantityId quantity, F&& f) const {  // after set_world
        const SignalId id = plan_->model.quantities[quantity].signal;
        const Rational* last = state_.first ? nullptr : &std::get<Rational>(state_.last[id]);
        part().quantities[quantity].each(
            state_.engine, last, [this](OperationId guard) { return guards_.truth(guard); }, f);
        if (const Interval* i = plan_->monitor.world(state_.monitor, quantity))
            f(Limit{LimitRule::playbook, i, nullptr, false});
    }
    void feed_controller(const Pick& pick);  // after set_world: the probes that stand before the controller
    Permission may_be_up() const;            // after feed_controller
    // Calls f with the values of its quantity that the sensor may show, newest first, until f returns false.
    template <class F>
    void each_delayed(SensorId sensor, F&& f) const {
        const Sensor& s = plan_->model.sensors[sensor];
        if (!f(std::get<Rational>(now_[plan_->model.quantities[s.quantity].signal]))) return;
        long left = plan_->delays[sensor];
        const auto& past = state_.past[s.quantity];
        for (auto x = past.rbegin(); x != past.rend(); ++x) {
            if (left-- == 0 || !f(*x)) return;
        }
    }
    // How the sensor reads: which of its faults decides.
    struct Reads {
        const Fault* fault =
            nullptr;  // the reading is the fault's; null: the quantity's, within `off` more than its accuracy
        const Rational* value = nullptr;  // it reads this; null with a fault: anything
        Rational off;
    };
    Reads reads(SensorId sensor) const;  // after set_fault
    void sample(const Indexed<Switch, bool>& missed, const Indexed<Sensor, Rational>& readings);
    void run_logic(bool up);
    void energise_coils(const Pick& pick);           // after run_logic
    Permission may_have_moved(RelayId relay) const;  // after energise_coils
    bool coil(RelayId relay) const;                  // pulls, or a weld does
    void drive(const Indexed<Relay, bool>& contacts, const Indexed<Load, bool>& free_loads, const Pick& pick);
    void observe();
    bool observed(OperationId id) const { return observers_.truth(id); }
    Modes next_modes() const;              // after observe
    std::string why_not(Mode next) const;  // is none of them
    Permission claim_permission() const;   // after observe: whether the claim moves on by itself, see Choices
    Judgement end_scan(Mode next, bool claim_moves_on);

    bool position_of_contact(RelayId relay) const { return state_.relays[relay].position; }
    // Where the claim has the switch at the coming scan: its driver's hand, or where nobody may touch it. Else nothing.
    std::optional<bool> driven(SwitchId hand_switch) const;

 private:
    bool is_powered(SignalId output_or_contact) const;     // as commanded
    bool is_driving(SignalId output_or_contact) const;     // what hangs on it feels
    bool there(const std::vector<FaultId>& faults) const;  // one of them is
    Relay slowed(Relay relay) const;
    const Flow& flow(Look look, const Indexed<Relay, bool>& contacts);
    bool closes(const Branch& b, Look look, const Indexed<Relay, bool>& contacts) const;
    // What faults make of the branches, as long as they stay the same ones.
    struct Whole {
        Indexed<Fault, bool> faults;
        Standing standing;               // `live` is empty
        std::vector<BranchId> changing;  // that may stand otherwise in another look
    };
    const Whole& whole();
    Fed answer(const Probe& probe, const Flow* flow) const;
    Indexed<Relay, bool> contacts_before() const;
    void ask(std::initializer_list<ProbeKind> kinds, const Flow* flow, const Pick& pick);
    void feed_the_rest(const Indexed<Relay, bool>& contacts, const Pick& pick);
    void remember_wiring();
    void append_wiring(std::string& text) const;
    bool answered(ProbeKind kind, AnyId index) const;
    bool has_power(LoadId load) const;
    EngineFeels feels() const;
    Environment environment() { return {now_, state_.last, state_.elements}; }
    Value& at(SignalId id) { return now_[id]; }
    void set_number(SignalId id, const Rational& x);
    void remember_past();

    std::shared_ptr<const Plan> plan_;
    State state_;
    // Of the present scan
    Indexed<Signal, Value> now_;
    Evaluator guards_;
    Evaluator supply_;
    Evaluator logic_;
    Evaluator observers_;
    Looks looks_;
    // Per look, of what stands in looks_: most scans leave all switches as they are.
    std::array<std::shared_ptr<const Flow>, 3> flows_;
    std::shared_ptr<const Whole> whole_;
    bool supplied_ = true;
};

// The next scan.
Scan step(Machine& machine, const Choices& choices);

}  // namespace lanyard::sim
