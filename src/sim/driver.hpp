// The driver of a procedure: goes through its phases, sees what `until` waits for, reacts within an interval.
#pragma once

#include <string>
#include <vector>

#include "model/model.hpp"
#include "sim/program.hpp"
#include "sim/transit.hpp"

namespace lanyard::sim {

class DriverRules {
 public:
    DriverRules(const Model& model, const Procedure& procedure, Program& observers);

    struct Step {
        const Phase* phase = nullptr;
        OperationId until;  // none: lasts `limit`
        long limit = 0;     // scans
        long may = 0;       // may be the last when `until` was first seen true so many scans ago, that one included
        long must = 0;      // must be
        std::vector<std::pair<QuantityId, Interval>> world;  // what a playbook has quantities do
    };
    long last() const { return std::ssize(steps_) - 1; }
    bool is_over(long phase) const { return phase > last(); }
    const Step& step(long phase) const { return steps_[static_cast<std::size_t>(phase)]; }
    // Where the switches are.
    const Indexed<Switch, bool>& positions(long phase) const;
    const Procedure& procedure() const { return *procedure_; }

 private:
    const Procedure* procedure_;
    std::vector<Step> steps_;
};

struct DriverState {
    long phase = 0;
    long scans = 0;  // earlier scans of the phase; after the last phase: whether there was one
    long seen = 0;   // earlier scans since `until` was first true in this phase, that one included
};

// Whether this scan may be, must be the last of its phase. `until`: true at this scan.
Permission may_move_on(const DriverState& s, const DriverRules& r, bool until);
void go_on(DriverState& s, const DriverRules& r, bool until, bool moves_on);

}  // namespace lanyard::sim
