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
    long scans = 0;      // procedure with a deadline: scans of the run, up to one behind the deadline
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

    // The scan that the observers have just seen.
    Judgement judge(const MonitorState& s, const Evaluator& observers) const;
    // Takes the scan in.
    void go_on(MonitorState& s, const Evaluator& observers, bool claim_moves_on) const;

    const DriverRules* driver() const { return driver_ ? &*driver_ : nullptr; }
    Leave driver_leave(const MonitorState& s, const Evaluator& observers) const;
    void append_text(std::string& text, const MonitorState& s) const;

 private:
    Judgement judge_response(const MonitorState& s, const Evaluator& observers) const;
    Judgement judge_procedure(const MonitorState& s, const Evaluator& observers) const;
    bool until(const MonitorState& s, const Evaluator& observers) const;
    bool goal_seen(const MonitorState& s, const Evaluator& observers) const;
    long held_now(const MonitorState& s, const Evaluator& observers) const;

    enum class Kind { none, always, response, possible, procedure };
    Kind kind_ = Kind::none;
    int premise_ = -1;  // always: left side of the claim's arrow, -1 = none; response: whenever
    int body_ = -1;     // always, possible: body; response: then; procedure: goal
    long bound_ = 1;
    bool too_fast_ = false;
    std::optional<DriverRules> driver_;
    std::optional<long> deadline_;  // procedure: number of the scan
};

}  // namespace lanyard::sim
