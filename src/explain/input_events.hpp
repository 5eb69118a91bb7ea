// The choices of a run that something hangs on, as a list: what begins when, and until when it lasts.
#pragma once

#include <vector>

#include "claims/causes.hpp"
#include "claims/cone.hpp"
#include "model/model.hpp"
#include "sim/interpreter.hpp"

namespace lanyard::explain {

// By scan, then as the kinds stand. Only of what can have a say in the claim (`cone`). A rise or fall that goes on is
// one event, in however many segments. `scans`: what the run shows, of a replay.
std::vector<InputEvent> input_events(const Model& model, const Run& run, const Cone& cone,
                                     const std::vector<Scan>& scans);

// What did not happen: a switch that rests throughout the run; and, where the engine's mode has a say in the claim,
// what the world let pass when that made room for it: an engine that is cranked on although it might fire, a quantity
// that keeps its value over a change of mode.
std::vector<InputEvent> chances_missed(const Model& model, const Run& run, ConditionId condition, ClaimId claim,
                                       const std::vector<Scan>& scans);

// What the event's item is at a scan, and making it something else.
Value event_value(const InputEvent& event, const Choices& choices);
void set_value(const InputEvent& event, const Value& value, Choices& choices);

}  // namespace lanyard::explain
