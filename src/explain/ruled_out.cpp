#include "explain/ruled_out.hpp"

#include "base/slot.hpp"
#include "explain/input_events.hpp"

namespace lanyard {

namespace {

using Kind = InputEvent::Kind;

ExprPtr leaf(const Model& m, SignalId id) {
    auto e = std::make_shared<Expr>();
    e->op = Op::signal;
    e->signal = id;
    e->type = m.signal(id).type;
    return e;
}

ExprPtr node(Op op, std::vector<ExprPtr> args) {
    auto e = std::make_shared<Expr>();
    e->op = op;
    e->args = std::move(args);
    return e;
}

ExprPtr constant(const Model& m, SignalId id, const Rational& value) {
    auto e = std::make_shared<Expr>();
    e->op = Op::number;
    e->type = m.signal(id).type;
    e->value = value;
    return e;
}

ExprPtr is_on(const Model& m, SignalId id, bool on) { return on ? leaf(m, id) : node(Op::not_, {leaf(m, id)}); }

ExprPtr is_never(const Model& m, Mode mode) {
    auto e = std::make_shared<Expr>();
    e->op = Op::mode;
    e->type = Type::of_mode();
    e->mode = mode;
    return node(Op::ne, {leaf(m, m.mode), e});
}

RulingOut always(const ExprPtr& holds) {
    return [holds](Model& narrower) { narrower.conditions.back().holds.push_back(holds); };
}

Choices chosen_at(const Run& run, long scan) {
    const Segment last = first_scans(run, scan + 1).segments.back();
    return choices_at(last, last.scans - 1);
}

// Never so far that the quantity gets where the run had it while the event lasted.
std::optional<RulingOut> on_this_side(const Model& m, const Run& run, const RunCause::Part& p) {
    const SignalId id = m.quantities[slot(p.event.index)].signal;
    const auto& harmless = std::get<Rational>(p.instead);
    Rational is = harmless;
    long begin = 0;
    for (const auto& s : run.segments) {
        if (begin >= p.event.scan) is = choices_at(s, s.scans - 1).quantities[slot(p.event.index)];
        begin += s.scans;
        if (begin >= p.event.until) break;
    }
    if (is == harmless) return std::nullopt;
    return always(node(is < harmless ? Op::ge : Op::le, {leaf(m, id), constant(m, id, harmless)}));
}

// A relay that may move in the scan in which its coil changes always does.
std::optional<RulingOut> never_slow(const Model& m, int relay) {
    const Relay& r = m.relays[slot(relay)];
    if (r.pulls_in.lo > 0 && r.drops_out.lo > 0) return std::nullopt;
    return [relay](Model& narrower) {
        Relay& ideal = narrower.relays[slot(relay)];
        if (ideal.pulls_in.lo == 0) ideal.pulls_in = {0, 0};
        if (ideal.drops_out.lo == 0) ideal.drops_out = {0, 0};
    };
}

std::optional<RulingOut> never_answered(const Model& m, const RunCause::Part& part) {
    const Probe& p = m.circuit.probes[slot(part.event.index)];
    const auto k = slot(p.index);
    const bool instead = std::get<bool>(part.instead);
    const auto signal = [&](SignalId id) -> std::optional<RulingOut> {
        return id < 0 ? std::nullopt : std::optional(always(is_on(m, id, instead)));
    };
    switch (p.kind) {
        case ProbeKind::load:
            return signal(m.loads[slot(m.circuit.branches[k].index)].signal);
        case ProbeKind::coil:
            return signal(m.relays[slot(m.circuit.branches[k].index)].contact);
        case ProbeKind::input:
            return signal(m.wired_inputs[k].signal);
        case ProbeKind::node:
            return signal(m.circuit.nodes[k].signal);
        case ProbeKind::magneto:
            return signal(m.loads[k].signal);
        case ProbeKind::supply:
            return signal(m.powered);
        case ProbeKind::field:
            return std::nullopt;
        case ProbeKind::flight:
            return [k](Model& narrower) { narrower.relays[k].flight_probe = -1; };
        case ProbeKind::passage:
            return [k](Model& narrower) { narrower.switches[k].passage_probe = -1; };
        case ProbeKind::bounce:
            return [k](Model& narrower) { narrower.circuit.branches[k].bounced_by.clear(); };
        case ProbeKind::chatter:
            return [k](Model& narrower) { narrower.switches[k].bounced_by.clear(); };
        case ProbeKind::reset:
            return [](Model& narrower) { narrower.supply.resets_by.clear(); };
    }
    return std::nullopt;
}

}  // namespace

std::optional<RulingOut> rules_out(const Model& m, const Run& run, const RunCause::Part& p) {
    const auto k = slot(p.event.index);
    switch (p.event.kind) {
        case Kind::position:
            return always(is_on(m, m.switches[k].position, std::get<bool>(p.instead)));
        case Kind::free_load:
            return always(is_on(m, m.loads[k].signal, std::get<bool>(p.instead)));
        case Kind::missed: {
            const ExprPtr position = is_on(m, m.switches[k].position, !m.switches[k].normally_closed);
            return always(node(Op::not_, {node(Op::xor_, {leaf(m, m.switches[k].seen), position})}));
        }
        case Kind::quantity:
            return on_this_side(m, run, p);
        case Kind::reading: {
            const Sensor& s = m.sensors[k];
            return always(node(Op::eq, {leaf(m, s.signal), leaf(m, m.quantities[slot(s.quantity)].signal)}));
        }
        case Kind::contact:
            return never_slow(m, p.event.index);
        case Kind::wiring:
            return never_answered(m, p);
        case Kind::fault:
            return [f = p.event.index](Model& narrower) { narrower.conditions.back().excluded.push_back({f}); };
        case Kind::mode:
            return always(is_never(m, std::get<Mode>(event_value(p.event, chosen_at(run, p.event.scan)))));
    }
    return std::nullopt;
}

}  // namespace lanyard
