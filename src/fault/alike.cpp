#include "fault/alike.hpp"

#include <map>

#include "circuit/switching.hpp"
#include "model/faults.hpp"

namespace lanyard::fault {

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
            return !f.signal && !f.comes_and_goes;
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
using FaultAnswers = std::map<FaultId, Indexed<Probe, std::size_t>>;
FaultAnswers answers(const Model& m, const std::vector<FaultId>& faults) {
    FaultAnswers out;
    for (const FaultId f : faults) out[f] = Indexed<Probe, std::size_t>(like(m.circuit.probes));
    Switching switching(m.circuit, faults, Indexed<Fault, bool>(like(m.faults)));
    for (const ProbeId p : m.circuit.probes.ids()) {
        const Probe& probe = m.circuit.probes[p];
        if (!is_of_the_levels(probe.kind)) continue;
        const auto all = switching.answers([&](auto& w) { return *ask(w, m, probe); });
        for (std::size_t k = 0; k < all.with_fault.size(); ++k)
            for (const FaultId f : all.with_fault[k].faults) out[f][p] = k + 1;
    }
    return out;
}

}  // namespace

FaultGroups alike(const Model& model, const std::vector<FaultId>& faults) {
    FaultGroups groups;
    std::vector<FaultId> comparable;
    for (const FaultId f : faults)
        if (is_of_the_wiring_alone(model.faults[f])) comparable.push_back(f);
    FaultAnswers told;
    if (model.circuit.exists() && !comparable.empty()) {
        Model m = model;
        for (const FaultId f : comparable) use_fault(m, f);
        try {
            told = answers(m, comparable);
        } catch (const TooLarge&) {
            told.clear();
        }
    }
    std::map<Indexed<Probe, std::size_t>, std::size_t> group_of;
    for (const FaultId f : faults) {
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

}  // namespace lanyard::fault
