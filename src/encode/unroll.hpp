// A system unrolled into a solver, step by step, and runs read back from the solver's models.
#pragma once

#include <vector>

#include "claims/run.hpp"
#include "encode/system.hpp"

namespace lanyard::encode {

// A run of which only what the claim's cone touches is chosen; the rest is filled in by sim (complete_run).
struct PartialRun {
    Run run;
    // What is chosen, the same at every scan; per item of Choices.
    Indexed<Quantity, bool> quantities;
    Indexed<Switch, bool> positions, missed;
    Indexed<Sensor, bool> readings;
    Indexed<Relay, bool> contacts;
    Indexed<Load, bool> free_loads;
    Indexed<Probe, bool> wiring;
    Indexed<Fault, bool> faults;
    bool next_mode = false;
};

class Unrolling {
 public:
    // From the initial state. The solver must live in the system's context.
    Unrolling(const System& system, Solver& solver);
    void extend();  // one more step
    std::size_t depth() const { return steps_.size(); }
    const Renaming& step(std::size_t i) const { return steps_[i]; }
    // The run of the solver's last model, `steps` steps long, the last of them a single scan.
    PartialRun read(const Model& model, std::size_t steps);

 private:
    Choices read_choices(const Model& model, const Renaming& at);
    const System* system_;
    Solver* solver_;
    std::vector<Renaming> steps_;
};

// The exact value of a numeral of the solver.
Rational exact(const z3::expr& numeral);

}  // namespace lanyard::encode
