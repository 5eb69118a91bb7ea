// The wiring as the machine plays it. It is looked at three times in a scan: before the controller (its supply and its
// inputs; relays and outputs as the scan before has left them), for the coils (relays as before, outputs as now), and
// for all the rest. So a relay that hangs on another one's contact follows at least a scan later, and two that hang on
// each other may be found in every order. Each look takes relays and outputs as they are when it is asked for.
// Tested by: tests/circuit/levels_test.cpp, tests/encode/exhaustive_test.cpp
#include "sim/wiring.hpp"

#include <algorithm>

namespace lanyard::sim {

Wires::Wires(const Plan& plan) : plan_(plan), answers_(like(plan.model.circuit.probes)) {
    looks_.fed.resize(answers_.size());
}

// How a branch that switches stands without a fault of its own.
bool Wires::closes(const Branch& b, const Ends& ends) const {
    const Model& m = plan_.model;
    if (b.kind == BranchKind::pole) {
        const Switch& s = m.switches[b.index];
        const bool between = s.passage_probe && answers_[s.passage_probe];
        return ends.signals.on(s.position) == b.makes && !between;
    }
    if (b.kind == BranchKind::contact) {
        const ProbeId flight = m.relays[b.index].flight_probe;
        return ends.relays.position(b.index) == b.makes && (!flight || !answers_[flight]);
    }
    const bool on = ends.controller.drives(b.index);
    return b.makes ? on : ends.controller.is_up() && !on;
}

const Wires::Whole& Wires::whole(const Faults& faults) {
    if (whole_ && whole_->faults == faults.all()) return *whole_;
    auto out = std::make_shared<Whole>();
    out->faults = faults.all();
    const auto& branches = plan_.model.circuit.branches;
    for (const BranchId b : branches.ids()) {
        const bool opened = faults.there(branches[b].opened_by), closed = faults.there(branches[b].closed_by);
        const bool changes = !opened && (is_switched(branches[b]) || faults.there(branches[b].bounced_by));
        out->standing.closed.push_back(!opened && (closed || branches[b].kind != BranchKind::stray));
        out->standing.both_ways.push_back(closed);
        if (changes) out->changing.push_back(b);
    }
    whole_ = std::move(out);
    return *whole_;
}

bool Wires::answer(ProbeKind kind, AnyId index) const {
    const auto& probes = plan_.model.circuit.probes;
    for (const ProbeId p : probes.ids())
        if (probes[p].kind == kind && probes[p].index == index) return answers_[p];
    return false;
}

const Flow& Wires::flow(Look look, const Ends& ends) {
    const Circuit& c = plan_.model.circuit;
    const Whole& whole = this->whole(ends.faults);
    Standing now = whole.standing;
    for (const BranchId b : whole.changing) {
        const Branch& branch = c.branches[b];
        const bool bounced = ends.faults.there(branch.bounced_by) && answer(ProbeKind::bounce, b);
        const bool closed = now.both_ways[b] || !is_switched(branch) || closes(branch, ends);
        now.closed[b] = closed && !bounced;
    }
    for (const SourceId s : c.sources.ids()) {
        const Source& source = c.sources[s];
        const OperationId live = plan_.live[s];
        const bool excited = !source.field || ends.faults.there(source.excited_by) || answers_[source.field];
        now.live.push_back((!live || ends.programs.guard(live)) && excited && !ends.faults.there(source.dead_by));
    }
    Standing& last = looks_.standing[ordinal(look)];
    std::shared_ptr<const Flow>& flow = flows_[ordinal(look)];
    if (flow && last == now) return *flow;
    flow = std::make_shared<const Flow>(c, now.closed, now.both_ways, now.live);
    last = std::move(now);
    return *flow;
}

Fed Wires::fed(const Probe& probe, const Flow* flow, const Ends& ends) const {
    const Model& m = plan_.model;
    const Circuit& c = m.circuit;
    switch (probe.kind) {
        case ProbeKind::load:
            return flow->works(probe.index);
        case ProbeKind::coil: {
            Fed a = flow->works(probe.index);
            const Relay& r = m.relays[c.branches[probe.index].index];
            if (!c.voltage) return a;
            const auto& v = ends.signals.number(m.quantities[c.voltage].signal);
            if (r.operates_at) a.must = a.must && v >= *r.operates_at;
            if (r.releases_at && !voltages_may_add(c)) a.may = a.may && v > *r.releases_at;
            a.must = a.must && a.may;
            return a;
        }
        case ProbeKind::input: {
            const WiredInput& w = m.wired_inputs[probe.index];
            Fed high = w.pulled_up ? flow->input_is_grounded(w.node) : flow->input_has_plus(w.node);
            if (w.pulled_up) high = {!high.may, !high.must};
            Fed on = w.on_when_low ? Fed{!high.may, !high.must} : high;
            if (ends.faults.there(w.stuck_off_by)) on = {};
            if (ends.faults.there(w.stuck_on_by)) on = {true, true};
            return on;
        }
        case ProbeKind::supply:
            return flow->is_fed(c.supply_plus, c.supply_minus);
        case ProbeKind::field:
            return flow->works(c.sources[probe.index].winding);
        case ProbeKind::node:
            return flow->has_plus(probe.index);
        case ProbeKind::magneto: {
            const Fed stopped = flow->is_stopped(c.magneto_lead[probe.index]);
            return {!stopped.may, !stopped.must};
        }
        case ProbeKind::flight:
            return {false, ends.relays.pulls(probe.index) != ends.relays.position(probe.index)};
        case ProbeKind::passage: {
            const SignalId position = m.switches[probe.index].position;
            return {false, !ends.signals.first && ends.signals.now[position] != ends.signals.last[position]};
        }
        case ProbeKind::bounce:
            return {false, ends.faults.there(c.branches[probe.index].bounced_by)};
        case ProbeKind::chatter:
            return {false, ends.faults.there(m.switches[probe.index].bounced_by)};
        case ProbeKind::reset:
            return {false, ends.faults.there(m.supply.resets_by)};
    }
    return {};
}

void Wires::ask(std::initializer_list<ProbeKind> kinds, const Flow* flow, const Ends& ends, const Pick& pick) {
    const Circuit& c = plan_.model.circuit;
    for (const ProbeId p : c.probes.ids())
        if (std::find(kinds.begin(), kinds.end(), c.probes[p].kind) != kinds.end()) {
            looks_.fed[p] = fed(c.probes[p], flow, ends);
            answers_[p] = pick(p, looks_.fed[p]);
        }
}

void Wires::feed_controller(const Ends& ends, const Pick& pick) {
    ask({ProbeKind::passage, ProbeKind::bounce, ProbeKind::chatter, ProbeKind::reset}, nullptr, ends, pick);
    if (!plan_.model.circuit.exists()) return;
    ask({ProbeKind::supply, ProbeKind::input}, &flow(Look::before_controller, ends), ends, pick);
}

void Wires::energise_coils(const Ends& ends, const Pick& pick) {
    if (!plan_.model.circuit.exists()) return;
    ask({ProbeKind::coil}, &flow(Look::coils, ends), ends, pick);
}

void Wires::feed_the_rest(const Ends& ends, const Pick& pick) {
    if (!plan_.model.circuit.exists()) return;
    ask({ProbeKind::flight}, nullptr, ends, pick);
    const Flow& now = flow(Look::rest, ends);
    ask({ProbeKind::load, ProbeKind::field, ProbeKind::node, ProbeKind::magneto}, &now, ends, pick);
}

void Wires::append_text(std::string& text) const {
    const auto& probes = plan_.model.circuit.probes;
    for (const ProbeId p : probes.ids())
        if (probes[p].kind == ProbeKind::flight || probes[p].kind == ProbeKind::field) text += answers_[p] ? '1' : '0';
}

}  // namespace lanyard::sim
