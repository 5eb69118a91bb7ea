// The wiring in a scan: what conducts, and what the rest of the model is told.
#pragma once

#include <array>
#include <functional>
#include <memory>
#include <optional>
#include <vector>

#include "circuit/flow.hpp"
#include "claims/run.hpp"
#include "model/model.hpp"

namespace lanyard::sim {

// What the wiring remembers from scan to scan.
struct WiringState {
    Indexed<Probe, bool> answers;
};

// When the wiring is looked at in a scan: with which contacts and outputs.
enum class Look {
    before_controller,  // both of the scan before
    coils,              // contacts of the scan before
    rest,               // all as it is now
};

// How everything that switches stood in a look: what a Flow is made of.
struct Standing {
    Indexed<Branch, bool> closed, both_ways;
    Indexed<Source, bool> live;
    friend bool operator==(const Standing&, const Standing&) = default;
};

// What was seen of the wiring in the last scan that was played.
struct Looks {
    std::array<Standing, 3> standing;  // per Look
    Indexed<Probe, Fed> fed;           // between what the world chose
    friend bool operator==(const Looks&, const Looks&) = default;
};

// Takes an answer of a probe between what must be and what may be.
using Pick = std::function<bool(ProbeId probe, Fed)>;

}  // namespace lanyard::sim
