// A model in which a cause cannot be: the same, with less that the world may choose.
//
// What has a signal is ruled out by a line of the condition: this switch stays so, this quantity never gets there, the
// engine is never in that mode. A choice that has none is taken out of the model: a relay that may move at once does, a
// contact is never found between its positions, one that bounces does not. Either way what is left are runs of the
// whole model - and whoever finds one replays it there.
// Tested by: tests/explain/ruled_out_test.cpp
#pragma once

#include <functional>
#include <optional>

#include "claims/causes.hpp"
#include "model/model.hpp"

namespace lanyard::explain {

// Makes the claim's condition, the last one of the model, narrower, or the model; nothing where that cannot be said.
using RulingOut = std::function<void(Model& narrower)>;
std::optional<RulingOut> rules_out(const Model& model, const Run& run, const RunCause::Part& part);

}  // namespace lanyard::explain
