// The wiring as the machine plays it. It is looked at three times in a scan: before the controller (its supply and its
// inputs; relays and outputs as the scan before has left them), for the coils (relays as before, outputs as now), and
// for all the rest. So a relay that hangs on another one's contact follows at least a scan later, and two that hang on
// each other may be found in every order. Each look takes relays and outputs as they are when it is asked for.
// Tested by: tests/circuit/levels_test.cpp, tests/encode/exhaustive_test.cpp
#include "sim/wiring.hpp"

#include <algorithm>

#include "sim/machine.hpp"

namespace lanyard::sim {

// How a branch that switches stands without a fault of its own.
bool Machine::closes(const Branch& b) const {
    const Model& m = plan_->model;
    if (b.kind == BranchKind::pole) {
        const Switch& s = m.switches[b.index];
        const bool between = s.passage_probe && wiring_.answers[s.passage_probe];
        return signals_.on(s.position) == b.makes && !between;
    }
    if (b.kind == BranchKind::contact) {
        const ProbeId flight = m.relays[b.index].flight_probe;
        return relays_.position(b.index) == b.makes && (!flight || !wiring_.answers[flight]);
    }
    const bool on = controller_.drives(b.index);
    return b.makes ? on : controller_.is_up() && !on;
}

const Machine::Whole& Machine::whole() {
    if (whole_ && whole_->faults == faults_.all()) return *whole_;
    auto out = std::make_shared<Whole>();
    out->faults = faults_.all();
    const auto& branches = plan_->model.circuit.branches;
    for (const BranchId b : branches.ids()) {
        const bool opened = faults_.there(branches[b].opened_by), closed = faults_.there(branches[b].closed_by);
        const bool changes = !opened && (is_switched(branches[b]) || faults_.there(branches[b].bounced_by));
        out->standing.closed.push_back(!opened && (closed || branches[b].kind != BranchKind::stray));
        out->standing.both_ways.push_back(closed);
        if (changes) out->changing.push_back(b);
    }
    whole_ = std::move(out);
    return *whole_;
}

// What the world has chosen at this scan; false where nobody asks.
bool Machine::answered(ProbeKind kind, AnyId index) const {
    const auto& probes = plan_->model.circuit.probes;
    for (const ProbeId p : probes.ids())
        if (probes[p].kind == kind && probes[p].index == index) return wiring_.answers[p];
    return false;
}

const Flow& Machine::flow(Look look) {
    const Circuit& c = plan_->model.circuit;
    const Whole& whole = this->whole();
    Standing now = whole.standing;
    for (const BranchId b : whole.changing) {
        const Branch& branch = c.branches[b];
        const bool bounced = faults_.there(branch.bounced_by) && answered(ProbeKind::bounce, b);
        const bool closed = now.both_ways[b] || !is_switched(branch) || closes(branch);
        now.closed[b] = closed && !bounced;
    }
    for (const SourceId s : c.sources.ids()) {
        const Source& source = c.sources[s];
        const OperationId live = plan_->live[s];
        const bool excited = !source.field || faults_.there(source.excited_by) || wiring_.answers[source.field];
        now.live.push_back((!live || programs_.guard(live)) && excited && !faults_.there(source.dead_by));
    }
    Standing& last = looks_.standing[ordinal(look)];
    std::shared_ptr<const Flow>& flow = flows_[ordinal(look)];
    if (flow && last == now) return *flow;
    flow = std::make_shared<const Flow>(c, now.closed, now.both_ways, now.live);
    last = std::move(now);
    return *flow;
}

Fed Machine::answer(const Probe& probe, const Flow* flow) const {
    const Model& m = plan_->model;
    const Circuit& c = m.circuit;
    switch (probe.kind) {
        case ProbeKind::load:
            return flow->works(probe.index);
        case ProbeKind::coil: {
            Fed a = flow->works(probe.index);
            const Relay& r = m.relays[c.branches[probe.index].index];
            if (!c.voltage) return a;
            const auto& v = std::get<Rational>(signals_.now[m.quantities[c.voltage].signal]);
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
            if (faults_.there(w.stuck_off_by)) on = {};
            if (faults_.there(w.stuck_on_by)) on = {true, true};
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
            return {false, relays_.pulls(probe.index) != relays_.position(probe.index)};
        case ProbeKind::passage: {
            const SignalId position = m.switches[probe.index].position;
            return {false, !signals_.first && signals_.now[position] != signals_.last[position]};
        }
        case ProbeKind::bounce:
            return {false, faults_.there(c.branches[probe.index].bounced_by)};
        case ProbeKind::chatter:
            return {false, faults_.there(m.switches[probe.index].bounced_by)};
        case ProbeKind::reset:
            return {false, faults_.there(m.supply.resets_by)};
    }
    return {};
}

void Machine::ask(std::initializer_list<ProbeKind> kinds, const Flow* flow, const Pick& pick) {
    const Circuit& c = plan_->model.circuit;
    for (const ProbeId p : c.probes.ids())
        if (std::find(kinds.begin(), kinds.end(), c.probes[p].kind) != kinds.end()) {
            looks_.fed[p] = answer(c.probes[p], flow);
            wiring_.answers[p] = pick(p, looks_.fed[p]);
        }
}

void Machine::feed_controller(const Pick& pick) {
    const Model& m = plan_->model;
    ask({ProbeKind::passage, ProbeKind::bounce, ProbeKind::chatter, ProbeKind::reset}, nullptr, pick);
    if (m.circuit.exists()) {
        const Flow& before = flow(Look::before_controller);
        ask({ProbeKind::supply, ProbeKind::input}, &before, pick);
    }
    const auto lost = [&](ProbeId probe, bool lost_when) { return probe && wiring_.answers[probe] == lost_when; };
    controller_.supply(programs_.supply_is_on() && !faults_.there(m.supply.dead_by) &&
                       !lost(m.circuit.supply_probe, false) && !lost(m.circuit.reset_probe, true));
}

void Machine::energise_coils(const Pick& pick) {
    const Model& m = plan_->model;
    if (m.circuit.exists()) ask({ProbeKind::coil}, &flow(Look::coils), pick);
    for (const RelayId k : m.relays.ids()) {
        const Relay& r = m.relays[k];
        const bool on = r.coil_probe ? wiring_.answers[r.coil_probe] : controller_.drives(m.signal(r.coil).index);
        relays_.energise(k, on, faults_);
    }
}

void Machine::feed_the_rest(const Pick& pick) {
    const Circuit& c = plan_->model.circuit;
    if (!c.exists()) return;
    ask({ProbeKind::flight}, nullptr, pick);
    const Flow& now = flow(Look::rest);
    ask({ProbeKind::load, ProbeKind::field, ProbeKind::node, ProbeKind::magneto}, &now, pick);
    for (const ProbeId p : c.probes.ids())
        if (c.probes[p].kind == ProbeKind::node)
            at(c.nodes[c.probes[p].index].signal) = static_cast<bool>(wiring_.answers[p]);
}

}  // namespace lanyard::sim
