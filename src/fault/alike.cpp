#include "fault/alike.hpp"

#include <map>

#include "base/slot.hpp"
#include "circuit/switching.hpp"
#include "model/faults.hpp"

namespace lanyard {

namespace {

// For good, and nowhere but in what branches and sources do.
bool is_of_the_wiring_alone(const Fault& f) {
    switch (f.kind) {
        case FaultKind::wire_open:
        case FaultKind::wire_to_ground:
        case FaultKind::wire_to_battery:
        case FaultKind::terminal_open:
        case FaultKind::fuse_open:
        case FaultKind::diode_open:
        case FaultKind::diode_shorted:
        case FaultKind::load_open:
        case FaultKind::ground_lost:
        case FaultKind::alternator_dead:
            return f.signal < 0 && !f.comes_and_goes;
        case FaultKind::sensor_stuck:
        case FaultKind::sensor_frozen:
        case FaultKind::sensor_open:
        case FaultKind::sensor_to_ground:
        case FaultKind::sensor_to_supply:
        case FaultKind::sensor_drift:
        case FaultKind::switch_stuck_off:
        case FaultKind::switch_stuck_on:
        case FaultKind::switch_bounces:
        case FaultKind::relay_never_pulls:
        case FaultKind::relay_welded:
        case FaultKind::relay_slow:
        case FaultKind::output_stuck_on:
        case FaultKind::output_stuck_off:
        case FaultKind::input_stuck_on:
        case FaultKind::input_stuck_off:
        case FaultKind::loop_open:
        case FaultKind::controller_resets:
        case FaultKind::controller_dead:
        case FaultKind::field_stays_on:
        case FaultKind::event:
            return false;
    }
    return false;
}

// By fault, which of the answers to each probe it gives; 0: that of the sound circuit.
std::map<int, std::vector<std::size_t>> answers(const Model& m, const std::vector<int>& faults) {
    std::map<int, std::vector<std::size_t>> out;
    for (const int f : faults) out[f].resize(m.circuit.probes.size());
    Switching switching(m.circuit, faults, std::vector<bool>(m.faults.size()));
    for (std::size_t p = 0; p < m.circuit.probes.size(); ++p) {
        const Probe& probe = m.circuit.probes[p];
        if (!is_of_the_levels(probe.kind)) continue;
        const auto all = switching.answers([&](auto& w) { return *ask(w, m, probe); });
        for (std::size_t k = 0; k < all.with_fault.size(); ++k)
            for (const int f : all.with_fault[k].faults) out[f][p] = k + 1;
    }
    return out;
}

}  // namespace

FaultGroups alike(const Model& model, const std::vector<int>& faults) {
    FaultGroups groups;
    std::vector<int> comparable;
    for (const int f : faults)
        if (is_of_the_wiring_alone(model.faults[slot(f)])) comparable.push_back(f);
    std::map<int, std::vector<std::size_t>> told;
    if (model.circuit.exists() && !comparable.empty()) {
        Model m = model;
        for (const int f : comparable) use_fault(m, f);
        try {
            told = answers(m, comparable);
        } catch (const TooLarge&) {
            told.clear();
        }
    }
    std::map<std::vector<std::size_t>, std::size_t> group_of;
    for (const int f : faults) {
        const auto known = told.find(f);
        if (known == told.end()) {
            groups.push_back({f});
            continue;
        }
        const auto [place, is_new] = group_of.emplace(known->second, groups.size());
        if (is_new) groups.push_back({});
        groups[place->second].push_back(f);
    }
    return groups;
}

}  // namespace lanyard
