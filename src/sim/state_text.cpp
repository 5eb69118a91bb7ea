// The state in words that are the same for states that behave alike: what no rule reads any more is left out, clocks
// stand still at the last bound that matters to them.
#include "sim/machine.hpp"

namespace lanyard::sim {

namespace {

void append_engine(std::string& text, const EngineState& s) {
    text += mode_name(s.mode);
    for (const long n : {s.fuelled, s.lost, s.coasting, s.since_firing, s.since_turned})
        text += ' ' + std::to_string(n);
    text += " | ";
}

}  // namespace

void Machine::append_wiring(std::string& text) const {
    const Model& m = plan_->model;
    const auto bit = [](bool b) { return b ? '1' : '0'; };
    if (m.circuit.exists()) {
        for (const OutputId k : m.outputs.ids()) text += bit(controller_.drives(k));
    }
    for (const auto& l : m.loops) text += bit(controller_.drives(m.signal(l.output).index));
    for (const ProbeId p : m.circuit.probes.ids()) {
        const ProbeKind kind = m.circuit.probes[p].kind;
        if (kind == ProbeKind::flight || kind == ProbeKind::field) text += bit(wiring_.answers[p]);
    }
    if (m.circuit.exists()) text += bit(controller_.is_up());
    text += ' ';
}

std::string Machine::state_text() const {
    std::string text = signals_.first ? "first " : "later ";
    append_engine(text, engine_);
    if (!signals_.first) {
        for (const SignalId id : plan_->remembered) append_text(text, signals_.last[id]);
    }
    text += "| ";
    sensors_.append_past(text);
    relays_.append_text(text);
    text += "| ";
    controller_.append_text(text);
    text += " | ";
    programs_.append_text(text);
    faults_.append_text(text);
    sensors_.append_held(text, faults_);
    append_wiring(text);
    plan_->monitor.append_text(text, monitor_);
    return text;
}

}  // namespace lanyard::sim
