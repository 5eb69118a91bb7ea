#include "sim/plan.hpp"

#include <algorithm>
#include <set>

namespace lanyard::sim {

namespace {

const Claim* claim_of(const Model& model, ClaimId claim) { return claim ? &model.claims[claim] : nullptr; }

// Signals whose value at the scan before can still make a difference.
std::set<SignalId> remembered_signals(const Plan& p) {
    std::set<SignalId> out;
    for (const auto& s : p.model.switches) {
        if (s.may_be_missed || s.passage_probe) out.insert(s.position);
    }
    for (const auto& part : p.parts) {
        for (const QuantityId q : part.quantities.ids()) {
            if (part.quantities[q].needs_last()) out.insert(p.model.quantities[q].signal);
        }
    }
    for (const SwitchId k : p.model.switches.ids()) {
        if (p.monitor.keeps(k)) out.insert(p.model.switches[k].position);
    }
    for (const Program* program : p.programs()) {
        for (const Operation& o : program->operations()) {
            const Expr& e = *o.expr;
            if (e.op == Op::last) out.insert(e.signal);
        }
    }
    return out;
}

}  // namespace

Plan::Plan(const Model& m, ConditionId condition, ClaimId claim)
    : model(m), guards(m), supply(m), logic(m), observers(m), monitor(m, claim_of(m, claim), observers) {
    const ConditionId before = claim ? claim_of(m, claim)->reached_under : ConditionId{};
    std::vector<const Condition*> conditions;
    if (before) conditions.push_back(&m.conditions[before]);
    conditions.push_back(&m.conditions[condition]);
    const bool counts =
        std::any_of(conditions.begin(), conditions.end(), [](const Condition* c) { return c->healthy; });
    long firing_cap = 0, turned_cap = 0;
    for (const Condition* c : conditions) {
        Part part{c, EngineRules(m, c->healthy, counts), {}, {}};
        for (const QuantityId q : m.quantities.ids()) {
            part.quantities.emplace_back(m, *c, q, guards);
            firing_cap = std::max(firing_cap, part.quantities.back().firing_cap());
            turned_cap = std::max(turned_cap, part.quantities.back().turned_cap());
        }
        for (const auto& e : c->holds) part.holds.push_back(observers.add(e));
        parts.push_back(std::move(part));
    }
    for (auto& part : parts) {
        part.engine.firing_cap = firing_cap;
        part.engine.turned_cap = turned_cap;
    }
    for (const auto& source : m.circuit.sources) live.push_back(source.live ? guards.add(source.live) : OperationId{});
    if (m.supply.on) supply_on = supply.add(m.supply.on);
    for (const SignalId id : m.order) {
        const OperationId value = logic.add(definition(m, id));
        logic_steps.emplace_back(value, logic.size());
    }
    for (Program* p : {&guards, &supply, &logic, &observers}) p->close();

    windows.resize(m.quantities.size());
    for (const auto& s : m.sensors) {
        delays.push_back(scans_up(s.delay, m.scan));
        long& window = windows[s.quantity];
        window = std::max(window, delays.back());
    }
    const auto set = remembered_signals(*this);
    remembered.assign(set.begin(), set.end());
}

}  // namespace lanyard::sim
