// Faults and the wiring in a scan: what is there, what conducts, and what the rest of the model is told.
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <vector>

#include "circuit/flow.hpp"
#include "claims/run.hpp"
#include "model/model.hpp"

namespace lanyard::sim {

struct FaultState {
    std::vector<bool> now;     // is there at this scan
    std::vector<bool> before;  // was there at the scan before
    std::vector<bool> ever;    // is or has been there
};

// What the wiring remembers from scan to scan.
struct WiringState {
    std::vector<bool> answers;  // per probe
    std::vector<bool> driven;   // per output: what it drove
    bool powered = false;       // the controller was
};

// Takes an answer of a probe between what must be and what may be.
using Pick = std::function<bool(int probe, Fed)>;

}  // namespace lanyard::sim
