// What sensors may read.
#pragma once

#include <algorithm>
#include <string>
#include <vector>

#include "sim/faults.hpp"
#include "sim/plan.hpp"
#include "sim/signals.hpp"

namespace lanyard::sim {

class Sensors {
 public:
    explicit Sensors(const Plan& plan)
        : plan_(plan), past_(like(plan.model.quantities)), held_(like(plan.model.sensors)) {}

    // How a sensor reads: which of its faults decides.
    struct Reads {
        const Fault* fault = nullptr;     // the reading is the fault's; null: the quantity's, as near as its accuracy
        const Rational* value = nullptr;  // with a fault: it reads this; null: anything
        Rational off;                     // without: what is added to the accuracy
    };
    Reads reads(SensorId sensor, const Faults& now) const {
        const Sensor& s = plan_.model.sensors[sensor];
        const auto& faults = plan_.model.faults;
        const auto find = [&](auto&& wanted) {
            for (const FaultId f : s.faults)
                if (now.there(f) && wanted(faults[f].kind)) return f;
            return FaultId{};
        };
        const FaultId wire = find([](FaultKind k) {
            return k == FaultKind::sensor_open || k == FaultKind::sensor_to_ground || k == FaultKind::sensor_to_supply;
        });
        if (wire) return {&faults[wire], faults[wire].value ? &*faults[wire].value : nullptr, 0};
        if (const FaultId stuck = find([](FaultKind k) { return k == FaultKind::sensor_stuck; }))
            return {&faults[stuck], now.there_before(stuck) ? &held_[sensor] : nullptr, 0};
        const FaultId frozen = find([](FaultKind k) { return k == FaultKind::sensor_frozen; });
        if (frozen && now.there_before(frozen)) return {&faults[frozen], &held_[sensor], 0};
        Reads out;
        for (const FaultId f : s.faults) {
            const Fault& fault = faults[f];
            if (fault.kind == FaultKind::sensor_drift && now.there(f) && fault.value) out.off = *fault.value;
        }
        return out;
    }
    // Calls f with the values of its quantity that the sensor may show, newest first, until f returns false.
    template <class F>
    void each_delayed(SensorId sensor, const Signals& signals, F&& f) const {
        const QuantityId quantity = plan_.model.sensors[sensor].quantity;
        if (!f(signals.number(plan_.model.quantities[quantity].signal))) return;
        long left = plan_.delays[sensor];
        const auto& past = past_[quantity];
        for (auto x = past.rbegin(); x != past.rend(); ++x) {
            if (left-- == 0 || !f(*x)) return;
        }
    }
    void end_scan(const Signals& signals, const Faults& faults) {
        const Model& m = plan_.model;
        for (const QuantityId q : past_.ids()) {
            const auto window = static_cast<std::size_t>(plan_.windows[q]);
            if (window == 0) continue;
            auto& past = past_[q];
            if (past.size() == window) past.erase(past.begin());
            past.push_back(signals.number(m.quantities[q].signal));
        }
        for (const SensorId k : m.sensors.ids())
            if (faults.there(m.sensors[k].faults)) held_[k] = signals.number(m.sensors[k].signal);
    }
    void append_past(std::string& text) const {
        for (const auto& past : past_) {
            for (const auto& x : past) text += x.get_str() + ',';
            text += ' ';
        }
    }
    void append_held(std::string& text, const Faults& now) const {
        for (const SensorId k : held_.ids()) {
            const auto& faults = plan_.model.sensors[k].faults;
            const bool read = std::any_of(faults.begin(), faults.end(), [&](FaultId f) {
                const FaultKind kind = plan_.model.faults[f].kind;
                return now.there_before(f) && (kind == FaultKind::sensor_stuck || kind == FaultKind::sensor_frozen);
            });
            if (read) text += held_[k].get_str() + ' ';
        }
    }

 private:
    const Plan& plan_;
    Indexed<Quantity, std::vector<Rational>> past_;  // as far as a sensor may show it: oldest first
    Indexed<Sensor, Rational> held_;                 // what a stuck one reads
};

}  // namespace lanyard::sim
