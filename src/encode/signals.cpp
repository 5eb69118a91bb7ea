#include "encode/signals.hpp"

#include "encode/folded.hpp"

namespace lanyard::encode {

z3::expr Signals::signal(SignalId id) {
    if (const auto* known = find(signals_, id)) return *known;
    return signals_.emplace(id, made(id)).first->second;
}

z3::expr Signals::made(SignalId id) {
    const Signal& s = m_.signal(id);
    switch (s.kind) {
        case SignalKind::position:
            return world_.position(s.index);
        case SignalKind::seen:
            return s_.part(s.name, world_.seen(s.index));
        case SignalKind::loop:
            return s_.part(s.name, folded_and(last(m_.loops[s.index].output),
                                              folded_not(faults_.any(m_.loops[s.index].opened_by))));
        case SignalKind::wired:
            return s_.part(s.name, meaning_.answer(m_.wired_inputs[s.index].probe));
        case SignalKind::node:
            return meaning_.asked(ProbeKind::node, s.index);
        case SignalKind::fault:
            return faults_.fault(s.index);
        case SignalKind::logic:
            return s_.named(id, folded_and(power_.powered(), meaning_.boolean(*m_.logic[s.index].is, {s.name, true})));
        case SignalKind::output:
            return s_.named(id,
                            folded_and(power_.powered(), meaning_.boolean(*m_.outputs[s.index].on, {s.name, true})));
        case SignalKind::contact:
            return s_.part(s.name, power_.contact(s.index));
        case SignalKind::load:
            return s_.part(s.name, load(s.index));
        case SignalKind::powered:
            return power_.powered();
        case SignalKind::quantity:
        case SignalKind::reading:
        case SignalKind::mode:
            break;
    }
    throw Unsupported{"'" + s.name + "' is not a Boolean"};
}

Num Signals::number(SignalId id) {
    const Signal& s = m_.signal(id);
    if (s.kind == SignalKind::quantity) return world_.quantity(s.index);
    if (s.kind == SignalKind::reading) return world_.reading(s.index);
    if (const auto* known = find(numbers_, id)) return *known;
    if (s.kind != SignalKind::logic && s.kind != SignalKind::output)
        throw Unsupported{"'" + s.name + "' is not a number"};
    Num n =
        meaning_.number(s.kind == SignalKind::logic ? *m_.logic[s.index].is : *m_.outputs[s.index].on, {s.name, true});
    if (power_.may_be_lost()) {
        n.first = z3::ite(power_.powered(), n.first, rational(0));
        n.last = z3::ite(power_.powered(), n.last, rational(0));
    }
    if (s_.options().named && !n.moving) n.first = n.last = s_.named(id, n.first);
    if (n.moving) n = s_.part(s.name, n);
    return numbers_.emplace(id, n).first->second;
}

z3::expr Signals::on(SignalId id) {
    if (m_.signal(id).type.kind != TypeKind::number) return signal(id);
    return s_.compare(Op::gt, number(id), constant(0));
}

z3::expr Signals::driving(SignalId id) {
    const Signal& s = m_.signal(id);
    if (s.kind != SignalKind::output) return on(id);
    const Output& o = m_.outputs[s.index];
    return folded_or(faults_.any(o.stuck_on_by), folded_and(on(id), folded_not(faults_.any(o.stuck_off_by))));
}

z3::expr Signals::last(SignalId id) {
    if (const auto* known = find(last_, id)) return *known;
    const auto now = [this, id] { return driving(id); };
    return last_.emplace(id, s_.before({StateRole::last, id}, m_.name_of(id), now)).first->second;
}

z3::expr Signals::load(LoadId id) {
    const Load& l = m_.loads[id];
    if (!l.feeders.empty()) {
        z3::expr_vector any(ctx_);
        for (SignalId f : l.feeders) any.push_back(driving(f));
        return any_of(any);
    }
    if (l.probe) return meaning_.answer(l.probe);
    const std::string& name = m_.name_of(l.signal);
    const z3::expr free = s_.choice({StateRole::value, l.signal});
    s_.readback().free_loads[id] = free;
    if (m_.engine)
        for (const LoadId f : m_.engine->fires_with)
            if (f == id) conditions_.healthy_rule("healthy: " + name + " has power", free);
    return free;
}

}  // namespace lanyard::encode
