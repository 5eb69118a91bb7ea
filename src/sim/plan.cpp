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
    for (const auto& l : p.model.loops) out.insert(l.output);
    for (const auto& s : p.model.switches) {
        if (s.may_be_missed) out.insert(s.position);
    }
    for (std::size_t q = 0; q < p.quantities.size(); ++q) {
        if (p.quantities[q].needs_last()) out.insert(p.model.quantities[q].signal);
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

Plan::Plan(const Model& m, int condition_, int claim)
    : model(m),
      condition(m.conditions[static_cast<std::size_t>(condition_)]),
      guards(m),
      supply(m),
      logic(m),
      observers(m),
      engine(m, condition.healthy),
      monitor(m, claim_of(m, claim), observers) {
    for (std::size_t q = 0; q < m.quantities.size(); ++q) {
        quantities.emplace_back(m, condition, static_cast<int>(q), guards);
        engine.firing_cap = std::max(engine.firing_cap, quantities.back().firing_cap());
        engine.turned_cap = std::max(engine.turned_cap, quantities.back().turned_cap());
    }
    if (m.supply.on) supply_node = supply.add(m.supply.on);
    for (const SignalId id : m.order) {
        const int node = logic.add(definition(m, id));
        logic_nodes.emplace_back(node, logic.size());
    }
    for (const auto& e : condition.holds) hold_nodes.push_back(observers.add(e));
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
