#include <algorithm>
#include <set>

#include "sim/machine.hpp"

namespace lanyard::sim {

namespace {

const Claim* claim_of(const Model& model, int claim) {
    return claim < 0 ? nullptr : &model.claims[static_cast<std::size_t>(claim)];
}

// Signals whose value at the scan before can still make a difference.
std::set<SignalId> remembered_signals(const Plan& p) {
    std::set<SignalId> out;
    for (const auto& s : p.model.switches) {
        if (s.may_be_missed || s.passage_probe >= 0) out.insert(s.position);
    }
    for (const auto& part : p.parts) {
        for (std::size_t q = 0; q < part.quantities.size(); ++q) {
            if (part.quantities[q].needs_last()) out.insert(p.model.quantities[q].signal);
        }
    }
    for (std::size_t k = 0; k < p.model.switches.size(); ++k) {
        if (p.monitor.keeps(k)) out.insert(p.model.switches[k].position);
    }
    for (const Program* program : {&p.guards, &p.supply, &p.logic, &p.observers}) {
        for (int i = 0; i < program->size(); ++i) {
            const Expr& e = *program->node(i).expr;
            if (e.op == Op::last) out.insert(e.signal);
        }
    }
    return out;
}

}  // namespace

Plan::Plan(const Model& m, int condition, int claim)
    : model(m), guards(m), supply(m), logic(m), observers(m), monitor(m, claim_of(m, claim), observers) {
    const int before = claim < 0 ? -1 : claim_of(m, claim)->reached_under;
    std::vector<const Condition*> conditions;
    if (before >= 0) conditions.push_back(&m.conditions[static_cast<std::size_t>(before)]);
    conditions.push_back(&m.conditions[static_cast<std::size_t>(condition)]);
    const bool counts =
        std::any_of(conditions.begin(), conditions.end(), [](const Condition* c) { return c->healthy; });
    long firing_cap = 0, turned_cap = 0;
    for (const Condition* c : conditions) {
        Part part{c, EngineRules(m, c->healthy, counts), {}, {}};
        for (std::size_t q = 0; q < m.quantities.size(); ++q) {
            part.quantities.emplace_back(m, *c, static_cast<int>(q), guards);
            firing_cap = std::max(firing_cap, part.quantities.back().firing_cap());
            turned_cap = std::max(turned_cap, part.quantities.back().turned_cap());
        }
        for (const auto& e : c->holds) part.hold_nodes.push_back(observers.add(e));
        parts.push_back(std::move(part));
    }
    for (auto& part : parts) {
        part.engine.firing_cap = firing_cap;
        part.engine.turned_cap = turned_cap;
    }
    for (const auto& source : m.circuit.sources) live_nodes.push_back(source.live ? guards.add(source.live) : -1);
    if (m.supply.on) supply_node = supply.add(m.supply.on);
    for (const SignalId id : m.order) {
        const int node = logic.add(definition(m, id));
        logic_nodes.emplace_back(node, logic.size());
    }
    for (Program* p : {&guards, &supply, &logic, &observers}) p->close();

    windows.resize(m.quantities.size());
    for (const auto& s : m.sensors) {
        delays.push_back(scans_up(s.delay, m.scan));
        long& window = windows[static_cast<std::size_t>(s.quantity)];
        window = std::max(window, delays.back());
    }
    const auto set = remembered_signals(*this);
    remembered.assign(set.begin(), set.end());
}

}  // namespace lanyard::sim
