// One scan of the model, stage by stage, in the order in which things happen: world, supply, sample, logic, drive,
// observe, engine. `step` plays the stages with given choices and complains (check.cpp); the world (world.hpp) plays
// them on a copy to see what it may choose. Not for use outside sim.
//
// Each member keeps its own state and sees others only where a stage hands them to it, to read:
//
//     member       keeps                                        changes in
//     signals_     all values, of this scan and the last        every stage; the machine and programs_ write them
//     faults_      which are there, were, have ever been        set_fault, end_scan
//     programs_    elements, what expressions have come to      set_world, run_logic, observe
//     wires_       answers of probes, how everything stood      feed_controller, energise_coils, drive
//     controller_  its supply, whether it is up, what it drives feed_controller, run_logic
//     relays_      coils, contacts                              energise_coils, drive
//     sensors_     past values, what a stuck one reads          end_scan
//     engine_      its mode and clocks                          observe, end_scan
//     monitor_     how far the claim has come                   end_scan
//
// A copy shares the plan and what is known of the wiring, which never change.
#pragma once

#include <memory>
#include <optional>
#include <string>

#include "claims/run.hpp"
#include "model/model.hpp"
#include "sim/interpreter.hpp"
#include "sim/sensors.hpp"
#include "sim/wiring.hpp"

namespace lanyard::sim {

class Machine {
 public:
    Machine(const Model& model, ConditionId condition, ClaimId claim)
        : plan_(std::make_shared<Plan>(model, condition, claim)) {}

    const Plan& plan() const { return *plan_; }
    // What is obeyed at the coming scan.
    const Part& part() const { return plan_->parts[plan_->parts.size() > 1 && monitor_.begun ? 1 : 0]; }
    struct State {
        const EngineState& engine;
        const Indexed<Element, ElementState>& elements;
        const MonitorState& monitor;
    };
    State state() const { return {engine_, programs_.elements(), monitor_}; }
    std::string state_text() const;
    const Signals& signals() const { return signals_; }
    const Relays& relays() const { return relays_; }
    const Looks& looks() const { return wires_.looks(); }
    // Where the claim has the switch at the coming scan: its driver's hand, or where nobody may touch it. Else nothing.
    std::optional<bool> driven(SwitchId hand_switch) const;

    // --- the stages ---
    Permission may_be_there(FaultId fault) const {  // given those that were set already
        return faults_.may_be_there(fault, *part().condition, signals_.first);
    }
    void set_fault(FaultId fault, bool is_there);
    void set_world(const Indexed<Switch, bool>& positions, const Indexed<Quantity, Rational>& quantities);
    template <class F>
    void each_limit(QuantityId quantity, F&& f) const {  // after set_world
        const SignalId id = plan_->model.quantities[quantity].signal;
        const Rational* last = signals_.first ? nullptr : &std::get<Rational>(signals_.last[id]);
        part().quantities[quantity].each(
            engine_, last, [this](OperationId guard) { return programs_.guard(guard); }, f);
        if (const Interval* i = plan_->monitor.world(monitor_, quantity))
            f(Limit{LimitRule::playbook, i, nullptr, false});
    }
    void feed_controller(const Pick& pick);  // after set_world: the probes that stand before the controller
    Permission may_be_up() const { return controller_.may_be_up(signals_.first); }           // after feed_controller
    Sensors::Reads reads(SensorId sensor) const { return sensors_.reads(sensor, faults_); }  // after set_fault
    template <class F>
    void each_delayed(SensorId sensor, F&& f) const {  // after set_world
        sensors_.each_delayed(sensor, signals_, f);
    }
    void sample(const Indexed<Switch, bool>& missed, const Indexed<Sensor, Rational>& readings);
    void run_logic(bool up);
    void energise_coils(const Pick& pick);            // after run_logic
    Permission may_have_moved(RelayId relay) const {  // after energise_coils
        return relays_.may_have_moved(relay, faults_);
    }
    void drive(const Indexed<Relay, bool>& contacts, const Indexed<Load, bool>& free_loads, const Pick& pick);
    void observe();
    bool observed(OperationId id) const { return programs_.observers().truth(id); }
    Modes next_modes() const;              // after observe
    std::string why_not(Mode next) const;  // is none of them
    Permission claim_permission() const;   // after observe: whether the claim moves on by itself, see Choices
    Judgement end_scan(Mode next, bool claim_moves_on);

 private:
    Wires::Ends ends() const { return {signals_, faults_, programs_, controller_, relays_}; }
    EngineFeels feels() const;
    Value& at(SignalId id) { return signals_.now[id]; }

    std::shared_ptr<const Plan> plan_;
    Signals signals_{plan_->model};
    Faults faults_{plan_->model};
    Programs programs_{*plan_};
    Wires wires_{*plan_};
    Controller controller_{plan_->model};
    Relays relays_{plan_->model};
    Sensors sensors_{*plan_};
    EngineState engine_ = stopped_for_long(plan_->parts[0].engine);
    MonitorState monitor_ = plan_->monitor.start();
};

// The next scan.
Scan step(Machine& machine, const Choices& choices);

}  // namespace lanyard::sim
