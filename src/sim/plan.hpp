// What a machine goes by.
#pragma once

#include <array>
#include <utility>
#include <vector>

#include "model/model.hpp"
#include "sim/engine.hpp"
#include "sim/limits.hpp"
#include "sim/monitor.hpp"
#include "sim/program.hpp"

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
    Program supply;                     // whether the controller has supply
    Program logic;                      // logic and outputs
    Program observers;                  // what the condition holds, the claim
    OperationId supply_on;              // in supply; none: always
    Indexed<Source, OperationId> live;  // in guards; none: always live
    // Per signal of Model::order: its value, where its operations end.
    std::vector<std::pair<OperationId, std::size_t>> logic_steps;
    Monitor monitor;
    Indexed<Sensor, long> delays;      // scans
    Indexed<Quantity, long> windows;   // past scans that some sensor may still show
    std::vector<SignalId> remembered;  // signals whose last value matters

    std::array<const Program*, 4> programs() const { return {&guards, &supply, &logic, &observers}; }
};

}  // namespace lanyard::sim
