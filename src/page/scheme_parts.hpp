// Which branches of the wiring have a say in what is asked about.
#pragma once

#include <set>

#include "model/model.hpp"

namespace lanyard::page {

struct SchemeChoice {
    std::set<BranchId> branches;
    std::set<WiredInputId> inputs;  // of the controller
    std::set<LoadId> magnetos;
};

// Empty if it would be too large to be read.
SchemeChoice scheme_parts(const Model& model, const std::set<SignalId>& asked);

}  // namespace lanyard::page
