#include "explain/ruled_out.hpp"

#include "circuit/words.hpp"
#include "explain/input_events.hpp"
#include "model/make_expr.hpp"

namespace lanyard::explain {

namespace {

using Kind = InputEvent::Kind;

ExprPtr is_on(const Model& m, SignalId id, bool on) {
    return on ? signal_expr(m, id) : boolean_expr(Op::not_, {signal_expr(m, id)});
}

ExprPtr is_never(const Model& m, Mode mode) { return boolean_expr(Op::ne, {signal_expr(m, m.mode), mode_expr(mode)}); }

RulingOut always(const ExprPtr& holds) {
    return [holds](Model& narrower) { narrower.conditions.back().holds.push_back(holds); };
}

// Never so far that the quantity gets where the run had it while the event lasted.
std::optional<RulingOut> on_this_side(const Model& m, const Run& run, const RunCause::Part& p) {
    const SignalId id = m.quantities[p.event.index].signal;
    const auto& harmless = std::get<Rational>(p.instead);
    Rational is = harmless;
    long begin = 0;
    for (const auto& s : run.segments) {
        if (begin >= p.event.scan) is = choices_at(s, s.scans - 1).quantities[p.event.index];
        begin += s.scans;
        if (begin >= p.event.until) break;
    }
    if (is == harmless) return std::nullopt;
    return always(
        boolean_expr(is < harmless ? Op::ge : Op::le, {signal_expr(m, id), number_expr(harmless, m.signal(id).type)}));
}

// A relay that may move in the scan in which its coil changes always does.
std::optional<RulingOut> never_slow(const Model& m, RelayId relay) {
    const Relay& r = m.relays[relay];
    if (r.pulls_in.lo > 0 && r.drops_out.lo > 0) return std::nullopt;
    return [relay](Model& narrower) {
        Relay& ideal = narrower.relays[relay];
        if (ideal.pulls_in.lo == 0) ideal.pulls_in = {0, 0};
        if (ideal.drops_out.lo == 0) ideal.drops_out = {0, 0};
    };
}

std::optional<RulingOut> never_answered(const Model& m, const RunCause::Part& part) {
    const Probe& p = m.circuit.probes[part.event.index];
    const AnyId k = p.index;
    switch (p.kind) {
        case ProbeKind::load:
        case ProbeKind::coil:
        case ProbeKind::input:
        case ProbeKind::node:
        case ProbeKind::magneto:
        case ProbeKind::supply:
        case ProbeKind::field: {
            const SignalId id = shown_by(m, p);
            return !id ? std::nullopt : std::optional(always(is_on(m, id, std::get<bool>(part.instead))));
        }
        case ProbeKind::flight:
            return [k](Model& narrower) { narrower.relays[k].flight_probe = {}; };
        case ProbeKind::passage:
            return [k](Model& narrower) { narrower.switches[k].passage_probe = {}; };
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
    const AnyId k = p.event.index;
    switch (p.event.kind) {
        case Kind::position:
            return always(is_on(m, m.switches[k].position, std::get<bool>(p.instead)));
        case Kind::free_load:
            return always(is_on(m, m.loads[k].signal, std::get<bool>(p.instead)));
        case Kind::missed: {
            const ExprPtr position = is_on(m, m.switches[k].position, !m.switches[k].normally_closed);
            return always(
                boolean_expr(Op::not_, {boolean_expr(Op::xor_, {signal_expr(m, m.switches[k].seen), position})}));
        }
        case Kind::quantity:
            return on_this_side(m, run, p);
        case Kind::reading: {
            const Sensor& s = m.sensors[k];
            return always(
                boolean_expr(Op::eq, {signal_expr(m, s.signal), signal_expr(m, m.quantities[s.quantity].signal)}));
        }
        case Kind::contact:
            return never_slow(m, p.event.index.to<Relay>());
        case Kind::wiring:
            return never_answered(m, p);
        case Kind::fault:
            return [f = p.event.index.to<Fault>()](Model& narrower) {
                narrower.conditions.back().excluded.push_back({f});
            };
        case Kind::mode:
            return always(is_never(m, std::get<Mode>(event_value(p.event, choices_at(run, p.event.scan)))));
    }
    return std::nullopt;
}

}  // namespace lanyard::explain
