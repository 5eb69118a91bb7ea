// Every choice of one scan of a tiny model, for those who play them all.
#pragma once

#include <vector>

#include "claims/run.hpp"
#include "model/model.hpp"

namespace lanyard::test {

// Quantities and readings are taken from a few values, in volts. Those that differ in the engine's next mode alone
// stand one behind the other.
class AllChoices {
 public:
    AllChoices(const Model& m, bool driver, const std::vector<int>& faults, const std::vector<long>& volts,
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
        for (std::size_t i = 0; i < m.switches.size(); ++i) {
            both([i](Choices& x) { x.positions[i] = true; });
            if (m.switches[i].may_be_missed) both([i](Choices& x) { x.missed[i] = true; });
        }
        for (std::size_t i = 0; i < m.quantities.size(); ++i)
            each(volts, [i](Choices& x, const Rational& v) { x.quantities[i] = v; });
        for (std::size_t i = 0; i < m.sensors.size(); ++i) sensor(i, readings);
        for (std::size_t i = 0; i < m.relays.size(); ++i) both([i](Choices& x) { x.contacts[i] = true; });
        for (std::size_t i = 0; i < m.loads.size(); ++i)
            if (m.loads[i].is_free()) both([i](Choices& x) { x.free_loads[i] = true; });
        for (std::size_t i = 0; i < m.circuit.probes.size(); ++i) both([i](Choices& x) { x.wiring[i] = true; });
        for (const int f : faults) both([f](Choices& x) { x.faults[static_cast<std::size_t>(f)] = true; });
        if (m.supply.on && m.supply.boots_in.hi > 0) both([](Choices& x) { x.booted = false; });
        if (driver) both([](Choices& x) { x.claim_moves_on = true; });
        if (m.engine)
            for (auto& x : copies(mode_count))
                for (int k = 0; k < mode_count; ++k) x[static_cast<std::size_t>(k)]->next_mode = static_cast<Mode>(k);
    }

    std::vector<Choices> list;

 private:
    std::vector<std::vector<Choices*>> copies(int n) {
        const std::vector<Choices> old = std::move(list);
        list.clear();
        list.reserve(old.size() * static_cast<std::size_t>(n));
        std::vector<std::vector<Choices*>> out;
        for (const auto& c : old) {
            out.emplace_back();
            for (int k = 0; k < n; ++k) {
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
        for (auto& x : copies(static_cast<int>(values.size())))
            for (std::size_t k = 0; k < values.size(); ++k) change(*x[k], Rational(values[k]));
    }
    void sensor(std::size_t i, const std::vector<long>& readings) {
        const Sensor& s = m_.sensors[i];
        if (!readings.empty()) return each(readings, [i](Choices& x, const Rational& v) { x.readings[i] = v; });
        for (auto& x : list) x.readings[i] = x.quantities[static_cast<std::size_t>(s.quantity)];
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
