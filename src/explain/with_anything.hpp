// A model in which one definition of logic or of an output no longer counts.
//
// In its place is what a sensor reads that is exact and without delay, of a quantity that nothing else depends on and
// that jumps as it likes: any value at every scan, independent of everything. All runs of the model are among the runs
// of this one, as nothing else has changed.
// Tested by: tests/explain/needs_test.cpp
#pragma once

#include <optional>

#include "model/model.hpp"

namespace lanyard::explain {

// None for logic that is a number: there is no range for it to be anywhere in.
std::optional<Model> with_anything(const Model& model, SignalId signal);

}  // namespace lanyard::explain
