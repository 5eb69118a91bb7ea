#include "prove/measure.hpp"

#include <algorithm>
#include <optional>

#include "sim/jump.hpp"

namespace lanyard::prove {

bool is_speed(const Model& m, QuantityId i) { return m.engine && m.engine->speed == i; }

Rational healthy_value(const Model& m, QuantityId i, const Rational& value, Mode mode) {
    const auto& band = m.quantities[i].healthy[ordinal(mode)];
    if (!band || (band->after && band->before.lo <= value && value <= band->before.hi)) return value;
    return std::clamp(value, band->within.lo, band->within.hi);
}

namespace {

class Measuring {
 public:
    Measuring(const Model& m, const Run& run) : m_(m) {
        for (const auto& s : run.segments) {
            for (long n = 0; n < (s.last_quantities.empty() ? 1 : s.scans); ++n) take(choices_at(s, n), out_.scans + n);
            out_.scans += s.scans;
        }
    }
    const Measure& result() const { return out_; }

 private:
    void event(long scan) {
        ++out_.events;
        out_.lateness += scan;
    }
    void take(const Choices& c, long scan) {
        for (const SwitchId i : c.positions.ids()) {
            if (c.positions[i] != (before_ ? before_->positions[i] : m_.switches[i].rests_on)) event(scan);
            if (c.missed[i]) event(scan);
        }
        for (const FaultId f : c.faults.ids()) {
            if (!c.faults[f] || (before_ && before_->faults[f])) continue;
            ++out_.faults;
            event(scan);
        }
        for (const LoadId i : c.free_loads.ids()) {
            if (!m_.loads[i].is_free() || c.free_loads[i] == (!before_ || before_->free_loads[i])) continue;
            ++out_.toggles;
            event(scan);
        }
        for (const SensorId i : c.readings.ids()) {
            const bool inexact = c.readings[i] != c.quantities[m_.sensors[i].quantity];
            if (inexact && !(before_ && before_->readings[i] == c.readings[i])) event(scan);
        }
        if (c.next_mode != (before_ ? before_->next_mode : Mode::stopped)) event(scan);
        for (const QuantityId i : c.quantities.ids()) take(i, c, scan);
        mode_before_ = before_ ? before_->next_mode : Mode::stopped;
        before_ = c;
    }
    // A change that goes on at the same rate is one, and one of the speed belongs to the mode that changes with it.
    void take(QuantityId i, const Choices& c, long scan) {
        const Mode mode = before_ ? before_->next_mode : Mode::stopped;
        const bool same = before_ && before_->quantities[i] == c.quantities[i] && mode == mode_before_;
        if (!same && healthy_value(m_, i, c.quantities[i], mode) != c.quantities[i]) ++out_.ill;
        if (!before_) return;
        if (rates_.empty()) rates_.resize(c.quantities.size());
        const Rational rate = c.quantities[i] - before_->quantities[i];
        if (rate != 0 && rate != rates_[i] && !(is_speed(m_, i) && mode != mode_before_)) {
            event(scan);
            if (sim::is_jump(m_, i, rate)) ++out_.jumps;
        }
        rates_[i] = rate;
    }

    const Model& m_;
    Measure out_;
    std::optional<Choices> before_;
    Mode mode_before_ = Mode::stopped;  // of the scan before
    Indexed<Quantity, Rational> rates_;
};

}  // namespace

Measure measure_of(const Model& m, const Run& run) { return Measuring(m, run).result(); }

}  // namespace lanyard::prove
