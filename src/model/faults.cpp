#include "model/faults.hpp"

namespace lanyard {

namespace {

int add_probe(Model& m, ProbeKind kind, int index) {
    for (std::size_t i = 0; i < m.circuit.probes.size(); ++i)
        if (m.circuit.probes[i].kind == kind && m.circuit.probes[i].index == index) return static_cast<int>(i);
    m.circuit.probes.push_back({kind, index});
    return static_cast<int>(m.circuit.probes.size()) - 1;
}

}  // namespace

void use_fault(Model& m, int fault) {
    Fault& f = m.faults[static_cast<std::size_t>(fault)];
    if (f.signal < 0) {
        f.signal = static_cast<SignalId>(m.signals.size());
        m.signals.push_back({f.name, SignalKind::fault, Type::boolean(), std::nullopt, fault, f.place, f.pointer});
    }
    if (f.kind == FaultKind::controller_resets || f.kind == FaultKind::controller_dead)
        m.circuit.reset_probe = add_probe(m, ProbeKind::reset, 0);
    if (f.kind != FaultKind::switch_bounces) return;
    const auto bounce = [&](const auto& things, ProbeKind kind) {
        for (std::size_t i = 0; i < things.size(); ++i)
            for (const int by : things[i].bounced_by)
                if (by == fault) add_probe(m, kind, static_cast<int>(i));
    };
    bounce(m.circuit.branches, ProbeKind::bounce);
    bounce(m.switches, ProbeKind::chatter);
}

}  // namespace lanyard
