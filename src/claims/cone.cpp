#include "claims/cone.hpp"

#include <algorithm>

namespace lanyard::claims {

namespace {

class Walk {
 public:
    Walk(const Model& model, bool healthy, const FollowWiring& wiring)
        : m_(model), healthy_(healthy), follow_wiring_(wiring) {}

    void expression(const ExprPtr& e) {
        if (!e) return;
        visit(e, [this](const Expr& x) {
            if (x.op == Op::signal || x.op == Op::last) signal(x.signal);
            if (has_memory(x.op)) cone_.elements.insert(x.element);
        });
    }
    void start_at(SignalId id) { signal(id); }
    Cone one_step(SignalId id) {
        follow(id);
        return std::move(cone_);
    }
    Cone finish() {
        while (!open_.empty()) {
            const SignalId id = open_.back();
            open_.pop_back();
            follow(id);
        }
        return std::move(cone_);
    }

 private:
    const Model& m_;
    bool healthy_;  // some condition that is obeyed is of a healthy engine
    const FollowWiring& follow_wiring_;
    Cone cone_;
    std::vector<SignalId> open_;

    void signal(SignalId id) {
        if (id && cone_.signals.insert(id).second) open_.push_back(id);
    }

    void follow(SignalId id) {
        const Signal& s = m_.signal(id);
        const AnyId k = s.index;
        switch (s.kind) {
            case SignalKind::position:
                return;
            case SignalKind::quantity:
                return quantity(s.index);
            case SignalKind::seen:
                return signal(m_.switches[k].position);
            case SignalKind::reading:
                return signal(m_.quantities[m_.sensors[k].quantity].signal);
            case SignalKind::loop:
                return signal(m_.loops[k].output);
            case SignalKind::logic:
            case SignalKind::output:
                expression(definition(m_, id));
                return signal(m_.powered);
            case SignalKind::contact:
                if (!m_.relays[k].coil) return wiring(id);
                return signal(m_.relays[k].coil);
            case SignalKind::load:
                for (const SignalId f : m_.loads[k].feeders) signal(f);
                if (m_.loads[k].probe) wiring(id);
                return;
            case SignalKind::wired:
            case SignalKind::node:
                return wiring(id);
            case SignalKind::fault:
                return;
            case SignalKind::mode:
                return engine();
            case SignalKind::powered:
                if (m_.circuit.supply_probe) wiring(id);
                return expression(m_.supply.on);
        }
    }

    // A circuit hangs together.
    void all_wiring() {
        for (const auto& b : m_.circuit.branches) {
            const AnyId i = b.index;
            if (b.kind == BranchKind::pole) signal(m_.switches[i].position);
            if (b.kind == BranchKind::contact || b.kind == BranchKind::coil) signal(m_.relays[i].contact);
            if (b.kind == BranchKind::output) signal(m_.outputs[i].signal);
        }
    }
    void wiring(SignalId id) {
        if (follow_wiring_)
            follow_wiring_(id, [this](SignalId s) { signal(s); });
        else
            all_wiring();
        const Circuit& c = m_.circuit;
        for (const auto& s : c.sources) expression(s.live);
        if (c.voltage) signal(m_.quantities[c.voltage].signal);
    }

    void quantity(QuantityId index) {
        const Quantity& q = m_.quantities[index];
        const bool banded = std::any_of(q.healthy.begin(), q.healthy.end(), [](const auto& b) { return !!b; });
        const bool tied = m_.engine && m_.engine->speed == index;
        if (tied || (banded && healthy_)) signal(m_.mode);
        for (const auto& line : q.lines)
            if (!line.healthy_only || healthy_) expression(line.when);
    }

    void engine() {
        const Engine& e = *m_.engine;
        for (const LoadId load : e.fires_with) signal(m_.loads[load].signal);
        if (e.cranks_with) signal(m_.loads[e.cranks_with].signal);
        if (e.speed) signal(m_.quantities[e.speed].signal);
    }
};

}  // namespace

Cone whole_model(const Model& m) {
    Cone out;
    for (const SignalId k : m.signals.ids()) out.signals.insert(k);
    for (const ElementId k : m.elements.ids()) out.elements.insert(k);
    return out;
}

Cone sources_of(const Model& m, SignalId id, const FollowWiring& wiring) { return Walk(m, false, wiring).one_step(id); }

Cone cone_of(const Model& m, ConditionId condition, ClaimId claim, const FollowWiring& wiring,
             const std::vector<QuantityId>& with) {
    std::vector<const Condition*> obeyed{&m.conditions[condition]};
    if (claim && m.claims[claim].reached_under) obeyed.push_back(&m.conditions[m.claims[claim].reached_under]);
    Walk walk(m, std::any_of(obeyed.begin(), obeyed.end(), [](const Condition* c) { return c->healthy; }), wiring);
    if (claim)
        for (const auto& e : expressions_of(m.claims[claim])) walk.expression(e);
    for (const Condition* c : obeyed)
        for (const auto& e : c->holds) walk.expression(e);
    for (const QuantityId q : with) walk.start_at(m.quantities[q].signal);
    return walk.finish();
}

}  // namespace lanyard::claims
