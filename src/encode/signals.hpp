// Signals, whatever makes them.
#pragma once

#include "encode/power.hpp"
#include "encode/world.hpp"

namespace lanyard::encode {

class Signals : EncoderPart {
 public:
    Signals(const EncoderPart& base, Conditions& conditions, Faults& faults, Power& power, PhysicalWorld& world)
        : EncoderPart(base), conditions_(conditions), faults_(faults), power_(power), world_(world) {}

    // As in Meaning.
    z3::expr signal(SignalId id);
    Num number(SignalId id);
    z3::expr driving(SignalId id);
    z3::expr last(SignalId id);

 private:
    z3::expr made(SignalId id);
    z3::expr on(SignalId id);  // output, contact or load as "has power"
    z3::expr load(LoadId id);

    Conditions& conditions_;
    Faults& faults_;
    Power& power_;
    PhysicalWorld& world_;
    std::map<SignalId, z3::expr> signals_, last_;
    std::map<SignalId, Num> numbers_;
};

}  // namespace lanyard::encode
