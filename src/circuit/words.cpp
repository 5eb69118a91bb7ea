#include "circuit/words.hpp"

namespace lanyard {

std::string probe_name(const Model& m, int probe) {
    const Probe& p = m.circuit.probes[static_cast<std::size_t>(probe)];
    const auto i = static_cast<std::size_t>(p.index);
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

}  // namespace lanyard
