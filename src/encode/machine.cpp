// Signals, whatever makes them, and loads.
#include "encode/encoder.hpp"
#include "encode/folded.hpp"

namespace lanyard {

z3::expr Encoder::signal(SignalId id) {
    const auto found = signals_.find(id);
    if (found != signals_.end()) return found->second;
    const Signal& s = m_.signal(id);
    z3::expr value = truth(false);
    switch (s.kind) {
        case SignalKind::position:
            value = world_.position(s.index);
            break;
        case SignalKind::seen:
            value = part(s.name, world_.seen(s.index));
            break;
        case SignalKind::loop:
            value = folded_and(last(m_.loops[s.index].output), folded_not(faults_.any(m_.loops[s.index].opened_by)));
            value = part(s.name, value);
            break;
        case SignalKind::wired:
            value = part(s.name, answer(m_.wired_inputs[s.index].probe));
            break;
        case SignalKind::node:
            value = asked(ProbeKind::node, s.index);
            break;
        case SignalKind::fault:
            value = faults_.fault(s.index);
            break;
        case SignalKind::logic:
            value = named(id, folded_and(power_.powered(), boolean(*m_.logic[s.index].is, {s.name, true})));
            break;
        case SignalKind::output:
            value = named(id, folded_and(power_.powered(), boolean(*m_.outputs[s.index].on, {s.name, true})));
            break;
        case SignalKind::contact:
            value = part(s.name, power_.contact(s.index));
            break;
        case SignalKind::load:
            value = part(s.name, load(s.index));
            break;
        case SignalKind::powered:
            value = power_.powered();
            break;
        case SignalKind::quantity:
        case SignalKind::reading:
        case SignalKind::mode:
            throw Unsupported{"'" + s.name + "' is not a Boolean"};
    }
    signals_.emplace(id, value);
    return value;
}

Num Encoder::signal_number(SignalId id) {
    const Signal& s = m_.signal(id);
    if (s.kind == SignalKind::quantity) return world_.quantity(s.index);
    if (s.kind == SignalKind::reading) return world_.reading(s.index);
    const auto found = numbers_.find(id);
    if (found != numbers_.end()) return found->second;
    if (s.kind != SignalKind::logic && s.kind != SignalKind::output)
        throw Unsupported{"'" + s.name + "' is not a number"};
    Num n = number(s.kind == SignalKind::logic ? *m_.logic[s.index].is : *m_.outputs[s.index].on, {s.name, true});
    if (power_.may_be_lost()) {
        n.first = z3::ite(power_.powered(), n.first, rational(0));
        n.last = z3::ite(power_.powered(), n.last, rational(0));
    }
    if (options_.named && !n.moving) n.first = n.last = named(id, n.first);
    if (n.moving) n = part(s.name, n);
    return numbers_.emplace(id, n).first->second;
}

z3::expr Encoder::on(SignalId id) {
    if (m_.signal(id).type.kind != TypeKind::number) return signal(id);
    const z3::expr zero = rational(0);
    return compare(Op::gt, signal_number(id), Num{zero, zero, false});
}

z3::expr Encoder::driving(SignalId id) {
    const Signal& s = m_.signal(id);
    if (s.kind != SignalKind::output) return on(id);
    const Output& o = m_.outputs[s.index];
    return folded_or(faults_.any(o.stuck_on_by), folded_and(on(id), folded_not(faults_.any(o.stuck_off_by))));
}

z3::expr Encoder::last(SignalId id) {
    const auto found = last_.find(id);
    if (found != last_.end()) return found->second;
    const auto now = [this, id] { return driving(id); };
    return last_.emplace(id, before({StateRole::last, id}, m_.name_of(id), now)).first->second;
}

z3::expr Encoder::load(LoadId id) {
    const Load& l = m_.loads[id];
    if (!l.feeders.empty()) {
        z3::expr_vector any(ctx_);
        for (SignalId f : l.feeders) any.push_back(driving(f));
        return any_of(any);
    }
    if (l.probe) return answer(l.probe);
    const std::string& name = m_.name_of(l.signal);
    const z3::expr free = input({StateRole::value, l.signal}, ctx_.bool_sort());
    readback().free_loads[id] = free;
    if (m_.engine)
        for (const LoadId f : m_.engine->fires_with)
            if (f == id) conditions_.healthy_rule("healthy: " + name + " has power", free);
    return free;
}

}  // namespace lanyard
