// What a wire may carry.
#pragma once

#include <optional>
#include <string>

#include "model/circuit.hpp"

namespace lanyard::circuit {

struct Ampacity {
    Rational amps;
    std::string words;  // "0.75 mm2, taken for 18 AWG, in the engine space"
};

// Nothing where the wire says no size, or a table of the model's own has no row for one so thin.
std::optional<Ampacity> ampacity_of(const Circuit& circuit, const Branch& wire);

// Smaller fuses than this are below half as much again as the wire may carry, which 33 CFR 183.455(c)(1) permits; of
// the usual table only.
std::optional<Rational> permitted_fuse(const Circuit& circuit, const Ampacity& wire);

}  // namespace lanyard::circuit
