// The world: physical quantities and hand switches, and what the controller sees of them.
#pragma once

#include "encode/engine_modes.hpp"
#include "encode/faults.hpp"

namespace lanyard::encode {

class PhysicalWorld : EncoderPart {
 public:
    PhysicalWorld(const EncoderPart& base, Conditions& conditions, Faults& faults, EngineModes& engine)
        : EncoderPart(base), conditions_(conditions), faults_(faults), engine_(engine) {}

    const Num& quantity(QuantityId id);
    // What a line that looks back at its own quantity sees of it; of no use elsewhere.
    const Num& looked_back_at(SignalId quantity) const { return looked_back_at_.at(quantity); }
    // The world chooses a position unless the claim has set it, before anything asks for it.
    void set(SwitchId id, const z3::expr& position) { s_.readback().positions[id] = position; }
    z3::expr position(SwitchId id);
    z3::expr moved(SwitchId id);  // since the scan before; not at scan 0
    z3::expr seen(SwitchId id);
    const Num& reading(SensorId id);

 private:
    void quantity_rules(QuantityId id, const Num& q);
    void band_rules(QuantityId id, const Num& q, std::size_t part);
    void line_rules(QuantityId id, const Num& q);
    z3::expr last_value(QuantityId id, const Num& q);
    z3::expr position_before(SwitchId id);
    struct Soundness {
        z3::expr sound;  // it shows its quantity
        z3::expr off;    // within so much more than its accuracy
    };
    Soundness soundness(const Sensor& sensor, const z3::expr& shown);
    void delayed_reading(SensorId id, const Num& q, const Num& r, const z3::expr& sound);

    Conditions& conditions_;
    Faults& faults_;
    EngineModes& engine_;
    std::map<QuantityId, Num> quantities_;
    std::map<QuantityId, z3::expr> last_values_;
    std::map<SignalId, Num> looked_back_at_;
    std::map<SwitchId, z3::expr> positions_before_;
    std::map<SensorId, Num> readings_;
};

}  // namespace lanyard::encode
