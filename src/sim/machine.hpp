// One scan of the model, stage by stage, in the order in which things happen: world, supply, sample, logic, drive,
// observe, engine. The interpreter plays the stages with given choices and complains; the world (world.hpp) plays
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
    std::vector<QuantityRules> quantities;
    std::vector<int> hold_nodes;
};

// Everything about model, condition and claim that does not change while a run goes on.
struct Plan {
    Plan(const Model& model, int condition, int claim);

    const Model& model;
    std::vector<Part> parts;  // one; two where the claim has a second part, under a condition of its own
    Program guards;           // `when` of the guarded lines
    Program supply;           //
    Program logic;            // logic and outputs
    Program observers;        // what the condition holds, the claim
    int supply_node = -1;
    std::vector<int> live_nodes;                   // per source of the circuit, in guards; -1: always live
    std::vector<std::pair<int, int>> logic_nodes;  // per signal of Model::order: its node, the end of its nodes
    Monitor monitor;
    std::vector<long> delays;          // per sensor: scans
    std::vector<long> windows;         // per quantity: past scans that some sensor may still show
    std::vector<SignalId> remembered;  // signals whose last value matters
};

struct State {
    bool first = true;  // scan 0 is yet to come
    EngineState engine;
    std::vector<Value> last;                  // signals of the scan before
    std::vector<std::vector<Rational>> past;  // per quantity, as far as a sensor may show it: oldest first
    std::vector<RelayState> relays;
    FaultState faults;
    WiringState wiring;
    std::vector<Rational> held;  // per sensor: what a stuck one reads
    PowerState power;
    std::vector<ElementState> elements;
    MonitorState monitor;
};

class Machine {
 public:
    Machine(const Model& model, int condition, int claim);

    Scan step(const Choices& choices);
    std::string state_text() const;

    const Plan& plan() const { return *plan_; }
    const State& state() const { return state_; }
    // What is obeyed at the coming scan.
    const Part& part() const { return plan_->parts[plan_->parts.size() > 1 && state_.monitor.begun ? 1 : 0]; }
    const std::vector<Value>& now() const { return now_; }
    const Looks& looks() const { return looks_; }

    // --- the stages ---
    Permission may_be_there(int fault) const;  // given those that were set already
    void set_fault(int fault, bool is_there);
    void set_world(const std::vector<bool>& positions, const std::vector<Rational>& quantities);
    template <class F>
    void each_limit(int quantity, F&& f) const {  // after set_world
        const auto q = static_cast<std::size_t>(quantity);
        const SignalId id = plan_->model.quantities[q].signal;
        const Rational* last = state_.first ? nullptr : &std::get<Rational>(state_.last[static_cast<std::size_t>(id)]);
        part().quantities[q].each(
            state_.engine, last, [this](int node) { return guards_.truth(node); }, f);
        if (const Interval* i = plan_->monitor.world(state_.monitor, quantity))
            f(Limit{LimitRule::playbook, i, nullptr, false});
    }
    void feed_controller(const Pick& pick);  // after set_world: the probes that stand before the controller
    Permission may_be_up() const;            // after feed_controller
    // Calls f with the values of its quantity that the sensor may show, newest first, until f returns false.
    template <class F>
    void each_delayed(int sensor, F&& f) const {
        const Sensor& s = plan_->model.sensors[static_cast<std::size_t>(sensor)];
        const auto q = static_cast<std::size_t>(s.quantity);
        if (!f(std::get<Rational>(now_[static_cast<std::size_t>(plan_->model.quantities[q].signal)]))) return;
        long left = plan_->delays[static_cast<std::size_t>(sensor)];
        for (auto x = state_.past[q].rbegin(); x != state_.past[q].rend(); ++x) {
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
    Reads reads(int sensor) const;  // after set_fault
    void sample(const std::vector<bool>& missed, const std::vector<Rational>& readings);
    void run_logic(bool up);
    void energise_coils(const Pick& pick);       // after run_logic
    Permission may_have_moved(int relay) const;  // after energise_coils
    void drive(const std::vector<bool>& contacts, const std::vector<bool>& free_loads, const Pick& pick);
    void observe();
    Modes next_modes() const;             // after observe
    Permission claim_permission() const;  // after observe: whether the claim moves on by itself, see Choices
    void end_scan(Mode next, bool claim_moves_on);

    bool position_of_contact(int relay) const { return state_.relays[static_cast<std::size_t>(relay)].position; }
    // Where the claim has the switch at the coming scan: its driver's hand, or where nobody may touch it. Else nothing.
    std::optional<bool> driven(int index) const;

 private:
    void begin(const Choices& c);
    bool shape_is_right(const Choices& c);
    void check_faults(const Choices& c);
    void check_quantities();
    void check_positions(const Choices& c);
    void check_readings(const Choices& c);
    void check_contacts(const Choices& c);
    void check_free_loads(const Choices& c);
    void check_holds();
    void check_mode(Mode next);
    void complain(const std::string& rule);

    bool is_powered(SignalId output_or_contact) const;  // as commanded
    bool is_driving(SignalId output_or_contact) const;  // what hangs on it feels
    bool there(const std::vector<int>& faults) const;   // one of them is
    bool coil(int relay) const;                         // pulls, or a weld does
    Relay slowed(Relay relay) const;
    const Flow& flow(Look look, const std::vector<bool>& contacts);
    bool closes(const Branch& b, Look look, const std::vector<bool>& contacts) const;
    // What faults make of the branches, as long as they stay the same ones.
    struct Whole {
        std::vector<bool> faults;
        Standing standing;          // `live` is empty
        std::vector<int> changing;  // branches that may stand otherwise in another look
    };
    const Whole& whole();
    Fed answer(const Probe& probe, const Flow* flow) const;
    std::vector<bool> contacts_before() const;
    void ask(std::initializer_list<ProbeKind> kinds, const Flow* flow, const Pick& pick);
    void feed_the_rest(const std::vector<bool>& contacts, const Pick& pick);
    void remember_wiring();
    void append_wiring(std::string& text) const;
    bool answered(ProbeKind kind, int index) const;
    bool take_answer(const Choices& c, int probe, Fed a);
    bool has_power(int load) const;
    EngineFeels feels() const;
    Environment environment() { return {now_, state_.last, state_.elements}; }
    Value& at(SignalId id) { return now_[static_cast<std::size_t>(id)]; }
    void set_number(SignalId id, const Rational& x);
    void remember_past();

    std::shared_ptr<const Plan> plan_;
    State state_;
    // Of the present scan
    std::vector<Value> now_;
    Evaluator guards_;
    Evaluator supply_;
    Evaluator logic_;
    Evaluator observers_;
    Looks looks_;
    // Per look, of what stands in looks_: most scans leave all switches as they are.
    std::array<std::shared_ptr<const Flow>, 3> flows_;
    std::shared_ptr<const Whole> whole_;
    bool supplied_ = true;
    std::string broken_;
};

}  // namespace lanyard::sim
