// One scan being chosen: see world.cpp.
#pragma once

#include <optional>
#include <vector>

#include "sim/landmarks.hpp"
#include "sim/machine.hpp"
#include "sim/world.hpp"

namespace lanyard::sim {

class Chooser {
 public:
    Chooser(const Model& model, const Machine& now, const Wish& wish) : m_(model), now_(now), wish_(wish), play_(now) {}

    // `held_...`: what the condition plainly says of switches and quantities.
    Choices choose(const Indexed<Switch, std::optional<bool>>& held_positions, const std::vector<HalfLine>& held_lines);

 private:
    // Where nothing is left open the entry does not matter; it then is `idle`, so that equal scans look equal.
    bool take(const Permission& permission, const std::optional<bool>& wish, bool idle) const;
    const Value& last(SignalId id) const { return now_.signals().last[id]; }

    void choose_faults();
    bool choose_answer(ProbeId probe, Fed a);
    void choose_positions(const Indexed<Switch, std::optional<bool>>& held);
    void choose_quantities(const std::vector<HalfLine>& held);
    Rational wanted(QuantityId quantity) const;
    Rational within_limits(QuantityId quantity, const std::vector<HalfLine>& held) const;
    void choose_readings();
    Rational nearest_reading(SensorId sensor, const Rational& accuracy, const Rational& wish) const;
    Rational any_reading(SensorId sensor) const;
    void choose_missed();
    void choose_contacts();
    void choose_free_loads();
    Mode choose_mode() const;

    const Model& m_;
    const Machine& now_;
    const Wish& wish_;
    Machine play_;
    Choices c_;
};

}  // namespace lanyard::sim
