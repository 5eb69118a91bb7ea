// A run gone through again in a world that is not quite its own: one scan with given choices, or where these are not
// legal any more, with the nearest that are.
#pragma once

#include <memory>
#include <optional>

#include "sim/world.hpp"

namespace lanyard::sim {

// Which sensors read exactly what is there.
Indexed<Sensor, bool> exact_readings(const Model& model, const Choices& choices);

struct NearScan {
    Choices choices;
    Scan shows;
    bool as_wanted = true;  // the very choices that were given
};
// Plays the scan and goes on; nothing where no legal one was found. `exact`: sensors that shall go on to read exactly.
std::optional<NearScan> step_near(const Model& model, const World& world, std::unique_ptr<Interpreter>& now,
                                  const Choices& wanted, const Indexed<Sensor, bool>& exact);

}  // namespace lanyard::sim
