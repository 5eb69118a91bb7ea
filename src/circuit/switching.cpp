#include "circuit/switching.hpp"

#include <set>

namespace lanyard::circuit {

namespace {

constexpr std::size_t most_nodes = 4'000'000;

}  // namespace

Function Switching::Gates::happens(const WiringEvent& e) {
    if (e.kind == WiringEvent::Kind::fault) return constant(e.index == fault_ || owner_->always_[e.index]);
    return d_->event(owner_->numbers_.at(e));
}

Switching::Switching(const Circuit& circuit, const std::vector<FaultId>& may_come, Indexed<Fault, bool> always)
    : circuit_(circuit), always_(std::move(always)) {
    std::set<FaultId> of_the_wiring;
    const auto note = [&](const std::vector<FaultId>& faults) { of_the_wiring.insert(faults.begin(), faults.end()); };
    for (const Branch& b : circuit.branches) {
        note(b.opened_by);
        note(b.closed_by);
    }
    for (const Source& s : circuit.sources) note(s.dead_by);
    for (const FaultId f : may_come)
        if (of_the_wiring.count(f) > 0) may_come_.push_back(f);
    name_events();
    diagrams_ = std::make_unique<Diagrams>(events_.size(), most_nodes);
}

// In the order of the branches: what lies together in the wiring lies together in the diagrams.
void Switching::name_events() {
    const auto add = [&](const WiringEvent& e) {
        numbers_.emplace(e, events_.size());
        events_.push_back(e);
    };
    for (const BranchId b : circuit_.branches.ids()) {
        if (is_switched(circuit_.branches[b])) add({WiringEvent::Kind::conducts, b});
        if (!circuit_.branches[b].bounced_by.empty()) add({WiringEvent::Kind::bounces, b});
    }
    for (const SourceId s : circuit_.sources.ids())
        if (circuit_.sources[s].live || circuit_.sources[s].field) add({WiringEvent::Kind::live, s});
}

Switching::Circuitry& Switching::circuitry(FaultId fault) {
    return with_.try_emplace(fault, circuit_, Gates(*this, fault)).first->second;
}

void Switching::add(Answers& to, FaultId fault, const Answer& answer) {
    for (Case& c : to.with_fault)
        if (same(c.answer, answer)) {
            c.faults.push_back(fault);
            return;
        }
    to.with_fault.push_back({{fault}, answer});
}

}  // namespace lanyard::circuit
