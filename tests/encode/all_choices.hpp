// Every choice of one scan of a tiny model, for those who play them all.
#pragma once

#include <vector>

#include "claims/run.hpp"
#include "model/model.hpp"

namespace lanyard::test {

using namespace claims;

// Quantities and readings are taken from a few values, in volts. Those that differ in the engine's next mode alone
// stand one behind the other.
class AllChoices {
 public:
    AllChoices(const Model& m, bool driver, const std::vector<FaultId>& faults, const std::vector<long>& volts,
               const std::vector<long>& readings)
        : m_(m) {
        Choices c;
        c.quantities.resize(m.quantities.size());
        c.positions.resize(m.switches.size());
        c.missed.resize(m.switches.size());
        c.readings.resize(m.sensors.size());
        c.contacts.resize(m.relays.size());
        c.free_loads.resize(m.loads.size());
        c.wiring.resize(m.circuit.probes.size());
        c.faults.resize(m.faults.size());
        list.push_back(c);
        for (const SwitchId i : m.switches.ids()) {
            both([i](Choices& x) { x.positions[i] = true; });
            if (m.switches[i].may_be_missed) both([i](Choices& x) { x.missed[i] = true; });
        }
        for (const QuantityId i : m.quantities.ids())
            each(volts, [i](Choices& x, const Rational& v) { x.quantities[i] = v; });
        for (const SensorId i : m.sensors.ids()) sensor(i, readings);
        for (const RelayId i : m.relays.ids()) both([i](Choices& x) { x.contacts[i] = true; });
        for (const LoadId i : m.loads.ids())
            if (m.loads[i].is_free()) both([i](Choices& x) { x.free_loads[i] = true; });
        for (const ProbeId i : m.circuit.probes.ids()) both([i](Choices& x) { x.wiring[i] = true; });
        for (const FaultId f : faults) both([f](Choices& x) { x.faults[f] = true; });
        if (m.supply.on && m.supply.boots_in.hi > 0) both([](Choices& x) { x.booted = false; });
        if (driver) both([](Choices& x) { x.claim_moves_on = true; });
        if (m.engine)
            for (auto& x : copies(mode_count))
                for (const Mode mode : all_modes) x[ordinal(mode)]->next_mode = mode;
    }

    std::vector<Choices> list;

 private:
    std::vector<std::vector<Choices*>> copies(std::size_t n) {
        const std::vector<Choices> old = std::move(list);
        list.clear();
        list.reserve(old.size() * n);
        std::vector<std::vector<Choices*>> out;
        for (const auto& c : old) {
            out.emplace_back();
            for (std::size_t k = 0; k < n; ++k) {
                list.push_back(c);
                out.back().push_back(&list.back());
            }
        }
        return out;
    }
    template <class F>
    void both(F change) {
        for (auto& x : copies(2)) change(*x[1]);
    }
    template <class F>
    void each(const std::vector<long>& values, F change) {
        for (auto& x : copies(values.size()))
            for (std::size_t k = 0; k < values.size(); ++k) change(*x[k], Rational(values[k]));
    }
    void sensor(SensorId i, const std::vector<long>& readings) {
        const Sensor& s = m_.sensors[i];
        if (!readings.empty()) return each(readings, [i](Choices& x, const Rational& v) { x.readings[i] = v; });
        for (auto& x : list) x.readings[i] = x.quantities[s.quantity];
    }

    const Model& m_;
};

// Whether the claim has a choice of its own at each scan.
inline bool makes_choices(const Claim& c) {
    const auto* r = std::get_if<Response>(&c.body);
    if (r) return r->manner == Manner::in_total;
    return !std::holds_alternative<Always>(c.body) && !std::holds_alternative<Possible>(c.body);
}

}  // namespace lanyard::test
