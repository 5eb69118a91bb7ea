// What a claim has to say at each scan: whether it demands something, whether it is broken, whether its goal is there.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "claims/bounds.hpp"
#include "model/model.hpp"
#include "sim/driver.hpp"
#include "sim/evaluate.hpp"

namespace lanyard::sim {

struct MonitorState {
    long held = 0;       // response: consecutive scans with `whenever`
    DriverState driver;  // procedure
    bool seen = false;   // procedure: the goal, since the last phase began
    long scans = 0;      // scans since the second part began, or of the run, up to one behind the deadline
    bool begun = false;  // the claim's second part; change limit, in total: the window
    bool owed = false;   // response once begun, in total: called for and not there yet
    long age = 0;        // consecutive scans in which it may come to be too late
    long window = 0;     // scans of the window
    long counted = 0;    // what was counted in it
    bool first = true;   // change limit: no scan yet
    bool before = false;
};

struct Judgement {
    bool violated = false;
    bool demanded = false;
    bool goal = false;
};

class Monitor {
 public:
    // `claim` null: nothing to say. Adds the claim's expressions to the observers.
    Monitor(const Model& model, const Claim* claim, Program& observers);

    MonitorState start() const;
    // Takes in the scan that the observers have just seen. `moves_on`: see Choices::claim_moves_on.
    Judgement go_on(MonitorState& s, const Evaluator& observers, bool moves_on) const;
    Permission permission(const MonitorState& s, const Evaluator& observers) const;

    // Where the driver's hand has the switch at the coming scan; nothing where there is no driver, or not yet.
    std::optional<bool> driver_position(const MonitorState& s, SwitchId hand_switch) const;
    // Nobody may touch the switch in the claim's second part.
    bool keeps(SwitchId hand_switch) const { return untouched_.has(hand_switch) && untouched_[hand_switch]; }
    // What a playbook has the world do with the quantity at the coming scan; null: nothing.
    const Interval* world(const MonitorState& s, QuantityId quantity) const;
    bool nobody_cranks(const MonitorState& s) const;
    void append_text(std::string& text, const MonitorState& s) const;

 private:
    void set_up(const Model& model, const Response& r, Program& observers);
    void set_up(const Model& model, const Procedure& p, Program& observers);
    void set_up(const Model& model, const Recoverable& r, Program& observers);
    Judgement take_while(MonitorState& s, const Evaluator& observers) const;
    Judgement take_once(MonitorState& s, const Evaluator& observers) const;
    Judgement take_total(MonitorState& s, const Evaluator& observers, bool moves_on) const;
    Judgement take_changes(MonitorState& s, const Evaluator& observers, bool moves_on) const;
    Judgement take_recoverable(MonitorState& s, const Evaluator& observers, bool moves_on) const;
    Judgement take_procedure(MonitorState& s, const Evaluator& observers, bool moves_on) const;
    bool owes(MonitorState& s, bool called_for, bool answered) const;
    bool in_window(MonitorState& s, bool moves_on) const;
    bool changed(const MonitorState& s, const Evaluator& observers) const;
    bool until(const MonitorState& s, const Evaluator& observers) const;

    enum class Kind { none, always, while_it_lasts, once_begun, in_total, changes, possible, recoverable, procedure };
    Kind kind_ = Kind::none;
    OperationId premise_;  // always: left side of the claim's arrow, or none; response: whenever; procedure: from
    OperationId body_;     // always, possible, recoverable, change limit: body; response: then; procedure: goal
    long bound_ = 1;
    long calls_ = 1;   // scans that call for a response, changes that are too many
    long window_ = 0;  // scans
    bool too_fast_ = false;
    bool any_time_ = false;
    std::optional<DriverRules> driver_;
    std::optional<long> deadline_;  // procedure, recoverable: number of the scan
    Indexed<Switch, bool> untouched_;
};

}  // namespace lanyard::sim
