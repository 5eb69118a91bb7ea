// Faults of a model that something speaks of.
#pragma once

#include "model/model.hpp"

namespace lanyard::model {

// Lets conditions name the fault: gives it a signal and the probes that its effect needs. Harmless if done before.
void use_fault(Model& model, FaultId fault);

}  // namespace lanyard::model
