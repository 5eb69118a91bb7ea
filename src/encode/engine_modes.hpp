// The engine's mode, and when it may and must change.
#pragma once

#include "encode/conditions.hpp"

namespace lanyard::encode {

class EngineModes : EncoderPart {
 public:
    using Bits = std::pair<z3::expr, z3::expr>;  // high, low: stopped 00, cranking 01, running 10, coasting 11
    EngineModes(const EncoderPart& base, Conditions& conditions) : EncoderPart(base), conditions_(conditions) {}

    const Bits& bits();
    const Bits& next_bits();
    z3::expr in_mode(Mode m);
    z3::expr since_fired(const Rational& t);   // at least t since firing
    z3::expr since_turned(const Rational& t);  // at least t since the engine last ran or coasted

 private:
    RunClock& clock(StateRole role, const z3::expr& running, bool starts_full = false) {
        return s_.clock({role, Whole::engine}, "engine", running, starts_full);
    }
    z3::expr has_its_loads();
    void moves();

    Conditions& conditions_;
    std::optional<Bits> bits_;
    RunClock* fired_ = nullptr;
    RunClock* turned_ = nullptr;
};

}  // namespace lanyard::encode
