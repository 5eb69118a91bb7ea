// Hand switches that stop the engine by closing: a broken wire defeats them, and nobody knows until the day.
//
// A switch is told if some contact of it takes the power from a load that the engine fires with by conducting
// (see below), and none takes it from any of them by not conducting. Without an engine section all loads and outputs
// count. What stops the engine only through an edge, a vote or a number is not seen.
// Tested by: tests/findings/protection_test.cpp
#include <algorithm>
#include <map>
#include <set>
#include <utility>

#include "circuit/find.hpp"
#include "circuit/part_words.hpp"
#include "circuit/ways.hpp"

namespace lanyard::circuit {

namespace {

// Which hand switches force a value upon a signal, and how.
//
// What it decides: positions of single contacts of hand switches, each of which alone makes a signal on (or off), with
// all other names unknown and everything at rest for long. "Alone" is taken at its best: on its way to a coil or an
// input everything else is closed.
//
//   expression   by its operators: `a AND b` is off where a or b is, on where both are; a timer follows its input, a
//                latch the input that wins; edges, counts, comparisons of numbers and votes are forced by nothing
//   output       by its expression, and off without the controller's power
//   load         off where a contact on its only way to plus or ground is open; one that outputs feed directly is off
//                where all of them are; a magneto where its lead is grounded
//   relay        as its coil: on where its way is closed, off where its only way is open
//   wired input  is away from its pull where its pin is led there, and with its pull where that way is open
//
// Why it is sound: each rule gives a value that holds in all runs in which the contact has stood so for long and the
// rest of its way is closed. When it gives up: cycles of definitions, ways of which there are two, chains of
// more than `longest_chain` names: nothing is said.

constexpr int longest_chain = 500;

// Contacts of a hand switch conduct, or do not.
struct Cause {
    SwitchId hand_switch;
    bool conducts = false;
    friend auto operator<=>(const Cause&, const Cause&) = default;
};
using Causes = std::set<Cause>;

// What is among the causes of each that was added.
class Common {
 public:
    void add(const Causes& next) {
        if (std::exchange(first_, false))
            all_ = next;
        else
            std::erase_if(all_, [&](const Cause& c) { return !next.contains(c); });
    }
    const Causes& all() const { return all_; }

 private:
    Causes all_;
    bool first_ = true;
};

class Forced {
 public:
    explicit Forced(const Net& net) : net_(net), m_(net.model()), ways_(net) {}

    Causes by(SignalId id, bool value) { return find(id, value).causes; }

 private:
    struct Found {
        Causes causes;
        bool anyway = false;  // it has the value whatever happens
    };

    Found find(SignalId id, bool value) {
        const auto [known, fresh] = known_.try_emplace({id, value});
        if (!fresh) return known->second;
        if (depth_ >= longest_chain || net_.budget_exhausted()) return {};
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

    Found logic(SignalId id, bool value) {
        const ExprPtr& e = definition(m_, id);
        if (!e || e->type.kind != TypeKind::boolean) return {};
        Found found = expression(*e, value);
        if (!value) found.causes.merge(find(m_.powered, false).causes);
        return found;
    }

    // Of several inputs: the value comes by any of them, or it takes all.
    Found any(const Expr& e, bool value) {
        Found out;
        for (const auto& arg : e.args) {
            Found one = expression(*arg, value);
            out.causes.merge(one.causes);
            out.anyway = out.anyway || one.anyway;
        }
        return out;
    }
    Found all(const Expr& e, bool value) {
        Common common;
        bool anyway = true;
        for (const auto& arg : e.args) {
            const Found one = expression(*arg, value);
            if (!one.anyway) common.add(one.causes);
            anyway = anyway && one.anyway;
        }
        return {common.all(), anyway};
    }

    Found expression(const Expr& e, bool value) {
        if (e.op == Op::truth) return {{}, e.flag == value};
        if (e.op == Op::signal || e.op == Op::last) return find(e.signal, value);
        if (e.op == Op::not_) return expression(*e.args[0], !value);
        if (e.op == Op::and_) return value ? all(e, value) : any(e, value);
        if (e.op == Op::or_) return value ? any(e, value) : all(e, value);
        if (is_delay(e.op) || e.op == Op::previous) return expression(*e.args[0], value);
        if (e.op == Op::sr && value) return expression(*e.args[0], true);   // set wins
        if (e.op == Op::rs && !value) return expression(*e.args[1], true);  // reset wins
        return {};  // whatever else it is: no cause is known, which is always right
    }

    Found branch(const Branch& b, bool conducts) {
        if (b.kind == BranchKind::pole) return {{{b.index.to<Switch>(), conducts}}, false};
        if (b.kind == BranchKind::contact) return find(m_.relays[b.index].contact, conducts == b.makes);
        if (b.kind == BranchKind::output) return find(m_.outputs[b.index].signal, conducts == b.makes);
        return {};
    }

    // The consumer or pin has nothing there, because its only way is open.
    Found opened(NodeId node, Sign sign) {
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

    // It is fed, because its way is closed.
    Found closed(NodeId node) {
        Found out;
        if (!node) return out;
        for (const BranchId b : ways_.of(node)) out.causes.merge(branch(net_.branch(b), true).causes);
        return out;
    }

    Found load(LoadId load, bool value) {
        const Load& l = m_.loads[load];
        if (value) return {};
        if (!l.probe) {
            Common common;
            for (const SignalId f : l.feeders) common.add(find(f, false).causes);
            return {common.all(), false};
        }
        const Probe& p = net_.circuit().probes[l.probe];
        if (p.kind == ProbeKind::magneto) return magneto(p.index);
        Found out = opened(net_.branch(p.index).from, Sign::plus);
        out.causes.merge(opened(net_.branch(p.index).to, Sign::ground).causes);
        return out;
    }

    Found magneto(LoadId load) {
        const NodeId lead = net_.circuit().magneto_lead[load];
        return net_.strong(Sign::ground)[lead] ? closed(lead) : Found{};
    }

    Found contact(RelayId relay, bool value) {
        const Relay& r = m_.relays[relay];
        if (r.coil) return find(r.coil, value);
        if (!r.coil_probe) return {};
        const Branch& coil = net_.branch(net_.circuit().probes[r.coil_probe].index);
        Found out = value ? closed(coil.from) : opened(coil.from, Sign::plus);
        out.causes.merge((value ? closed(coil.to) : opened(coil.to, Sign::ground)).causes);
        return out;
    }

    Found input(WiredInputId input, bool value) {
        const WiredInput& i = m_.wired_inputs[input];
        const bool at_rest = i.pulled_up != i.on_when_low;
        const Sign away = i.pulled_up ? Sign::ground : Sign::plus;
        if (value == at_rest) return opened(i.node, away);
        return net_.strong(away)[i.node] ? closed(i.node) : Found{};
    }

    Found no_power() {
        const Circuit& c = net_.circuit();
        Found out = opened(c.supply_plus, Sign::plus);
        out.causes.merge(opened(c.supply_minus, Sign::ground).causes);
        return out;
    }

    const Net& net_;
    const Model& m_;
    Ways ways_;
    int depth_ = 0;
    std::map<std::pair<SignalId, bool>, Found> known_;  // while it is being found: nothing
};

std::vector<SignalId> targets_of(const Model& m) {
    std::vector<SignalId> all;
    if (m.engine) {
        for (const LoadId load : m.engine->fires_with) all.push_back(m.loads[load].signal);
        return all;
    }
    for (const auto& load : m.loads) all.push_back(load.signal);
    for (const auto& output : m.outputs) all.push_back(output.signal);
    return all;
}

}  // namespace

void find_kills(const Net& net, Findings& out) {
    const Model& m = net.model();
    Forced forced(net);
    std::map<SwitchId, std::vector<std::string>> by_closing;  // what it stops
    std::map<SwitchId, bool> by_opening;
    for (const SignalId target : targets_of(m)) {
        const std::string name = "`" + m.name_of(target) + "`";
        for (const auto& cause : forced.by(target, false)) {
            if (!cause.conducts) {
                by_opening[cause.hand_switch] = true;
                continue;
            }
            auto& stops = by_closing[cause.hand_switch];
            if (std::find(stops.begin(), stops.end(), name) == stops.end()) stops.push_back(name);
        }
    }
    for (const auto& [hand_switch, stops] : by_closing) {
        if (by_opening.count(hand_switch) > 0) continue;
        const Signal& s = m.signal(m.switches[hand_switch].position);
        out.push_back({FindingKind::kill_needs_wire, s.place, s.pointer,
                       "`" + s.name + "` cuts the power of " + listed(stops) +
                           " by closing a contact: with a wire of its line broken it does nothing",
                       "nobody notices that the wire is broken until the switch is needed",
                       "use a contact that is closed while all is well, so that a broken wire stops the engine just as "
                       "the switch does"});
    }
}

}  // namespace lanyard::circuit
