#include "circuit/forced.hpp"

#include <algorithm>

namespace lanyard {

namespace {

constexpr int longest_chain = 500;

}  // namespace

Causes Forced::by(SignalId id, bool value) { return find(id, value).causes; }

Forced::Found Forced::find(SignalId id, bool value) {
    const auto [known, fresh] = known_.try_emplace({id, value});
    if (!fresh) return known->second;
    if (depth_ >= longest_chain || net_.tired()) return {};
    ++depth_;
    const Signal& s = m_.signal(id);
    Found found;
    if (s.kind == SignalKind::logic || s.kind == SignalKind::output) found = logic(id, value);
    if (s.kind == SignalKind::load) found = load(s.index, value);
    if (s.kind == SignalKind::contact) found = contact(s.index.to<Relay>(), value);
    if (s.kind == SignalKind::wired) found = input(s.index, value);
    if (s.kind == SignalKind::loop) found = find(m_.loops[s.index].output, value);
    if (s.kind == SignalKind::powered && !value) found = no_power();
    --depth_;
    known_[{id, value}] = found;
    return found;
}

Forced::Found Forced::logic(SignalId id, bool value) {
    const ExprPtr& e = definition(m_, id);
    if (!e || e->type.kind != TypeKind::boolean) return {};
    Found found = expression(*e, value);
    if (!value) found.causes.merge(find(m_.powered, false).causes);
    return found;
}

// Of several inputs: the value comes by any of them, or it takes all.
Forced::Found Forced::each(const Expr& e, bool value, bool all) {
    Found out;
    out.anyway = all;
    bool first = true;
    for (const auto& arg : e.args) {
        Found one = expression(*arg, value);
        if (!all) {
            out.causes.merge(one.causes);
            out.anyway = out.anyway || one.anyway;
        } else if (!one.anyway) {
            Causes both;
            for (const auto& c : one.causes)
                if (first || out.causes.count(c) > 0) both.insert(c);
            out.causes = std::move(both);
            out.anyway = first = false;
        }
    }
    return out;
}

Forced::Found Forced::expression(const Expr& e, bool value) {
    if (e.op == Op::truth) return {{}, e.flag == value};
    if (e.op == Op::signal || e.op == Op::last) return find(e.signal, value);
    if (e.op == Op::not_) return expression(*e.args[0], !value);
    if (e.op == Op::and_) return each(e, value, value);
    if (e.op == Op::or_) return each(e, value, !value);
    if (is_delay(e.op) || e.op == Op::previous) return expression(*e.args[0], value);
    if (e.op == Op::sr && value) return expression(*e.args[0], true);   // set wins
    if (e.op == Op::rs && !value) return expression(*e.args[1], true);  // reset wins
    return {};  // whatever else it is: no cause is known, which is always right
}

Forced::Found Forced::branch(const Branch& b, bool conducts) {
    if (b.kind == BranchKind::pole) return {{{b.index.to<Switch>(), conducts}}, false};
    if (b.kind == BranchKind::contact) return find(m_.relays[b.index].contact, conducts == b.makes);
    if (b.kind == BranchKind::output) return find(m_.outputs[b.index].signal, conducts == b.makes);
    return {};
}

Forced::Found Forced::opened(NodeId node, Sign sign) {
    Found out;
    if (!node || !net_.strong(sign)[node]) return out;
    for (const BranchId b : ways_.of(node)) {
        const Branch& x = net_.branch(b);
        if (!is_switched(x)) continue;
        // Several poles of one switch, say, open together.
        const NodeSet without = net_.reach(sign, [&](BranchId other) {
            const Branch& y = net_.branch(other);
            return y.kind != x.kind || y.index != x.index || y.makes != x.makes;
        });
        if (!without[node]) out.causes.merge(branch(x, false).causes);
    }
    return out;
}

Forced::Found Forced::closed(NodeId node) {
    Found out;
    if (!node) return out;
    for (const BranchId b : ways_.of(node)) out.causes.merge(branch(net_.branch(b), true).causes);
    return out;
}

Forced::Found Forced::load(LoadId load, bool value) {
    const Load& l = m_.loads[load];
    if (!l.probe) {
        Found out;
        if (value) return out;
        bool first = true;
        for (const SignalId f : l.feeders) {
            Causes both;
            for (const auto& c : find(f, false).causes)
                if (first || out.causes.count(c) > 0) both.insert(c);
            out.causes = std::move(both);
            first = false;
        }
        return out;
    }
    const Probe& p = net_.circuit().probes[l.probe];
    if (value) return {};
    if (p.kind == ProbeKind::magneto) return magneto(p.index);
    Found out = opened(net_.branch(p.index).from, Sign::plus);
    out.causes.merge(opened(net_.branch(p.index).to, Sign::ground).causes);
    return out;
}

Forced::Found Forced::magneto(LoadId load) {
    const NodeId lead = net_.circuit().magneto_lead[load];
    return net_.strong(Sign::ground)[lead] ? closed(lead) : Found{};
}

Forced::Found Forced::contact(RelayId relay, bool value) {
    const Relay& r = m_.relays[relay];
    if (r.coil) return find(r.coil, value);
    if (!r.coil_probe) return {};
    const Branch& coil = net_.branch(net_.circuit().probes[r.coil_probe].index);
    Found out = value ? closed(coil.from) : opened(coil.from, Sign::plus);
    out.causes.merge((value ? closed(coil.to) : opened(coil.to, Sign::ground)).causes);
    return out;
}

Forced::Found Forced::input(WiredInputId input, bool value) {
    const WiredInput& i = m_.wired_inputs[input];
    const bool at_rest = i.pulled_up != i.on_when_low;
    const Sign away = i.pulled_up ? Sign::ground : Sign::plus;
    if (value == at_rest) return opened(i.node, away);
    return net_.strong(away)[i.node] ? closed(i.node) : Found{};
}

Forced::Found Forced::no_power() {
    const Circuit& c = net_.circuit();
    Found out = opened(c.supply_plus, Sign::plus);
    out.causes.merge(opened(c.supply_minus, Sign::ground).causes);
    return out;
}

}  // namespace lanyard
