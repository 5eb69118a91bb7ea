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
    Choices choose(const std::vector<std::optional<bool>>& held_positions, const std::vector<HalfLine>& held_lines);

 private:
    // Where nothing is left open the entry does not matter; it then is `idle`, so that equal scans look equal.
    bool take(const Permission& permission, const std::optional<bool>& wish, bool idle) const;
    const Value& last(SignalId id) const { return now_.state().last[static_cast<std::size_t>(id)]; }

    void choose_faults();
    bool choose_answer(int probe, Fed a);
    void choose_positions(const std::vector<std::optional<bool>>& held);
    void choose_quantities(const std::vector<HalfLine>& held);
    Rational wanted(std::size_t quantity) const;
    Rational within_limits(std::size_t quantity, const std::vector<HalfLine>& held) const;
    void choose_readings();
    Rational nearest_reading(int sensor, const Rational& accuracy, const Rational& wish) const;
    Rational any_reading(std::size_t sensor) const;
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
