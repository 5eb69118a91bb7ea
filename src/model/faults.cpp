#include "model/faults.hpp"

namespace lanyard::model {

namespace {

ProbeId add_probe(Model& m, ProbeKind kind, AnyId index) {
    for (const ProbeId i : m.circuit.probes.ids())
        if (m.circuit.probes[i].kind == kind && m.circuit.probes[i].index == index) return i;
    m.circuit.probes.push_back({kind, index});
    return m.circuit.probes.last();
}

}  // namespace

void use_fault(Model& m, FaultId fault) {
    Fault& f = m.faults[fault];
    if (!f.signal) {
        f.signal = m.signals.next();
        m.signals.push_back({f.name, SignalKind::fault, Type::boolean(), std::nullopt, fault, f.place, f.pointer});
    }
    if (f.kind == FaultKind::controller_resets || f.kind == FaultKind::controller_dead)
        m.circuit.reset_probe = add_probe(m, ProbeKind::reset, {});
    if (f.kind != FaultKind::switch_bounces) return;
    const auto bounce = [&](const auto& things, ProbeKind kind) {
        for (const auto i : things.ids())
            for (const FaultId by : things[i].bounced_by)
                if (by == fault) add_probe(m, kind, i);
    };
    bounce(m.circuit.branches, ProbeKind::bounce);
    bounce(m.switches, ProbeKind::chatter);
}

}  // namespace lanyard::model
