#include "circuit/words.hpp"

namespace lanyard::circuit {

std::string probe_name(const Model& m, ProbeId probe) {
    const Probe& p = m.circuit.probes[probe];
    const AnyId i = p.index;
    switch (p.kind) {
        case ProbeKind::load:
        case ProbeKind::coil:
            return m.circuit.branches[i].name;
        case ProbeKind::input:
            return m.name_of(m.wired_inputs[i].signal);
        case ProbeKind::supply:
            return "controller.supply";
        case ProbeKind::field:
            return m.circuit.sources[i].name + ".excitation";  // "NAME.field" is its node
        case ProbeKind::node:
            return m.circuit.nodes[i].name;
        case ProbeKind::magneto:
            return m.name_of(m.loads[i].signal);
        case ProbeKind::flight:
            return m.name_of(m.relays[i].contact) + ".flight";
        case ProbeKind::passage:
            return m.name_of(m.switches[i].position) + ".passage";
        case ProbeKind::bounce:
            return m.circuit.branches[i].name + ".bounce";
        case ProbeKind::chatter:
            return m.name_of(m.switches[i].position) + ".bounce";
        case ProbeKind::reset:
            return "controller.reset";
    }
    return "";
}

SignalId shown_by(const Model& m, const Probe& p) {
    const AnyId k = p.index;
    switch (p.kind) {
        case ProbeKind::load:
            return m.loads[m.circuit.branches[k].index].signal;
        case ProbeKind::coil:
            return m.relays[m.circuit.branches[k].index].contact;
        case ProbeKind::input:
            return m.wired_inputs[k].signal;
        case ProbeKind::supply:
            return m.powered;
        case ProbeKind::node:
            return m.circuit.nodes[k].signal;
        case ProbeKind::magneto:
            return m.loads[k].signal;
        case ProbeKind::field:
        case ProbeKind::flight:
        case ProbeKind::passage:
        case ProbeKind::bounce:
        case ProbeKind::chatter:
        case ProbeKind::reset:
            break;
    }
    return {};
}

}  // namespace lanyard::circuit
