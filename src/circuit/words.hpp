#pragma once

#include <string>

#include "model/model.hpp"

namespace lanyard::circuit {

// Names what a probe of the wiring asks, in one word: "fan", "K1.coil", "controller.supply".
std::string probe_name(const Model& model, ProbeId probe);
// The signal that shows the answer; none: none does.
SignalId shown_by(const Model& model, const Probe& probe);

}  // namespace lanyard::circuit
