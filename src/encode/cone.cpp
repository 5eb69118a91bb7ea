#include "encode/cone.hpp"

namespace lanyard {

namespace {

class Cone {
 public:
    Cone(const Model& m, int condition)
        : m_(m), healthy_(m.conditions[static_cast<std::size_t>(condition)].healthy), in_(m.signals.size(), false) {}

    void read(const ExprPtr& e) {
        if (!e) return;
        visit(e, [&](const Expr& x) {
            if (x.op == Op::signal || x.op == Op::last) add(x.signal);
        });
    }
    void add(SignalId id) {
        if (id < 0 || in_[static_cast<std::size_t>(id)]) return;
        in_[static_cast<std::size_t>(id)] = true;
        open_.push_back(id);
    }
    std::vector<bool> close() {
        while (!open_.empty()) {
            const SignalId id = open_.back();
            open_.pop_back();
            expand(m_.signal(id));
        }
        return in_;
    }

 private:
    void expand(const Signal& s) {
        const auto i = static_cast<std::size_t>(s.index);
        switch (s.kind) {
            case SignalKind::quantity:
                quantity(m_.quantities[i], s.index);
                break;
            case SignalKind::position:
                break;
            case SignalKind::seen:
                add(m_.switches[i].position);
                break;
            case SignalKind::reading:
                add(m_.quantities[static_cast<std::size_t>(m_.sensors[i].quantity)].signal);
                break;
            case SignalKind::loop:
                add(m_.loops[i].output);
                break;
            case SignalKind::logic:
                read(m_.logic[i].is);
                add(m_.powered);
                break;
            case SignalKind::output:
                read(m_.outputs[i].on);
                add(m_.powered);
                break;
            case SignalKind::contact:
                add(m_.relays[i].coil);
                break;
            case SignalKind::load:
                for (SignalId f : m_.loads[i].feeders) add(f);
                break;
            case SignalKind::mode:
                engine();
                break;
            case SignalKind::powered:
                read(m_.supply.on);
                break;
        }
    }
    void quantity(const Quantity& q, int index) {
        for (const auto& line : q.lines)
            if (!line.healthy_only || healthy_) read(line.when);
        if (!m_.engine) return;
        bool banded = m_.engine->speed == index;
        for (const auto& band : q.healthy) banded = banded || (healthy_ && band);
        if (banded) add(m_.mode);
    }
    void engine() {
        const Engine& e = *m_.engine;
        for (int l : e.fires_with) add(m_.loads[static_cast<std::size_t>(l)].signal);
        if (e.cranks_with >= 0) add(m_.loads[static_cast<std::size_t>(e.cranks_with)].signal);
        if (e.speed >= 0) add(m_.quantities[static_cast<std::size_t>(e.speed)].signal);
    }

    const Model& m_;
    bool healthy_;
    std::vector<bool> in_;
    std::vector<SignalId> open_;
};

}  // namespace

std::vector<ExprPtr> expressions_of(const Claim& claim) {
    std::vector<ExprPtr> out;
    if (const auto* a = std::get_if<Always>(&claim.body)) out = {a->body};
    if (const auto* r = std::get_if<Response>(&claim.body)) out = {r->whenever, r->then};
    if (const auto* p = std::get_if<Possible>(&claim.body)) out = {p->body};
    if (const auto* p = std::get_if<Procedure>(&claim.body)) {
        out = {p->goal};
        for (const auto& phase : p->phases)
            if (phase.until) out.push_back(phase.until);
    }
    return out;
}

std::vector<bool> cone_of(const Model& model, int condition, int claim) {
    Cone cone(model, condition);
    if (claim >= 0)
        for (const auto& e : expressions_of(model.claims[static_cast<std::size_t>(claim)])) cone.read(e);
    const Condition& c = model.conditions[static_cast<std::size_t>(condition)];
    for (const auto& e : c.holds) cone.read(e);
    return cone.close();
}

}  // namespace lanyard
