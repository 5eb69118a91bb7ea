// What the wiring is asked, as formulas over what switches.
//
// What it decides: nothing; it states what must be and what may be, and an input that chooses where they differ. Where
// no more than one fault may be there, the cases are told apart (circuit/switching.hpp): the formula is that of the
// sound circuit, and for each fault that changes it another. Otherwise the levels themselves are formulas over switches
// and faults (circuit/levels.hpp); then branches stand in them by names of their own until it is known which matter.
//
// Why it is sound: both are exact, the first for runs that obey the limit on faults, which is a rule of the system.
// Tested against the search by tests/circuit and by the random models of tests/encode.
// Tested by: tests/circuit/levels_test.cpp
#include "base/log.hpp"
#include "circuit/words.hpp"
#include "encode/encoder.hpp"
#include "encode/folded.hpp"

namespace lanyard {

z3::expr Encoder::answer(ProbeId probe) {
    const auto found = answers_.find(probe);
    if (found != answers_.end()) return found->second;
    const logging::Stopwatch watch;
    const Truths t = truths(m_.circuit.probes[probe]);
    LANYARD_LOG(trace, "wiring asked: {}, {}, {:.3f} s", probe_name(m_, probe),
                z3::eq(t.must, t.may) ? "decided by what switches" : "open where the world may choose",
                watch.seconds());
    z3::expr value = t.must;
    if (!z3::eq(t.must, t.may)) {
        const z3::expr choice = input({StateRole::fed, probe}, ctx_.bool_sort());
        readback().wiring_choices[probe] = choice;
        value = folded_or(value, folded_and(t.may, choice));
    }
    readback().wiring[probe] = value;
    return answers_.emplace(probe, value).first->second;
}

Encoder::Truths Encoder::wired(Stage stage, const Probe& probe) {
    try {
        if (options_.parts) {
            const auto a = *ask(levels(stage), m_, probe);
            return {filled(a.must), filled(a.may)};
        }
        if (faults_.at_most() > 1) return over_faults(*ask(levels(stage), m_, probe));
        return by_case(switching().answers([&](auto& w) { return *ask(w, m_, probe); }), stage);
    } catch (const TooLarge&) {
        throw Unsupported{"the wiring is too large"};
    }
}

Switching& Encoder::switching() {
    if (switching_) return *switching_;
    std::vector<FaultId> may_come;
    Indexed<Fault, bool> always(like(m_.faults));
    for (const FaultId f : m_.faults.ids()) {
        always[f] = faults_.is_present(f);
        if (faults_.may_happen(f) && !faults_.is_present(f)) may_come.push_back(f);
    }
    return switching_.emplace(m_.circuit, may_come, std::move(always));
}

Encoder::Truths Encoder::by_case(const Switching::Answers& answers, Stage stage) {
    const auto of = [&](const Switching::Answer& a) { return Truths{formula(a.must, stage), formula(a.may, stage)}; };
    Truths out = of(answers.sound);
    for (const auto& c : answers.with_fault) {
        const z3::expr there = faults_.any(c.faults);
        const Truths with = of(c.answer);
        out = {folded_choice(there, with.must, out.must), folded_choice(there, with.may, out.may)};
    }
    return out;
}

// A formula for each node of the diagram, from below.
z3::expr Encoder::formula(Function f, Stage stage) {
    const Diagrams& d = switching().diagrams();
    auto& known = formulas_[stage];
    const auto of = [&](Function x) { return d.is_constant(x) ? truth(x == d.constant(true)) : known.at(x.node); };
    if (d.is_constant(f)) return of(f);
    for (const Function part : d.parts(f)) {
        if (known.count(part.node) > 0) continue;
        const z3::expr is = happens(switching().event(d.event_of(part)), stage);
        known.emplace(part.node, folded_choice(is, of(d.on(part)), of(d.off(part))));
    }
    return known.at(f.node);
}

z3::expr Encoder::happens(const WiringEvent& e, Stage stage) {
    switch (e.kind) {
        case WiringEvent::Kind::conducts:
            return conducts(m_.circuit.branches[e.index], stage);
        case WiringEvent::Kind::bounces:
            return asked(ProbeKind::bounce, e.index);
        case WiringEvent::Kind::live:
            return is_live(e.index);
        case WiringEvent::Kind::fault:
            return faults_.fault(e.index);
    }
    return truth(false);
}

z3::expr FaultGates::happens(const WiringEvent& e) { return encoder_->placeholder(e, stage_); }

Levels<FaultGates>& Encoder::levels(Stage stage) {
    const Circuit& circuit = options_.parts ? wiring_in_parts().circuit : m_.circuit;
    return levels_.try_emplace(stage, circuit, FaultGates(*this, ctx_, stage)).first->second;
}

z3::expr Encoder::placeholder(const WiringEvent& e, Stage stage) {
    if (e.kind == WiringEvent::Kind::fault && !m_.faults.has(e.index))
        return freed(wiring_in_parts().piece_of(e.index));
    if (e.kind != WiringEvent::Kind::conducts) return happens(e, stage);
    const std::string name =
        "branch." + std::to_string(ordinal(stage)) + "." + std::to_string(e.index.to<Branch>().index());
    const z3::expr constant = ctx_.bool_const(name.c_str());
    if (stands_for_.emplace(constant.id(), std::make_pair(stage, e)).second) kept_.push_back(constant);
    return constant;
}

Encoder::Truths Encoder::over_faults(const Levels<FaultGates>::Answer& a) {
    if (z3::eq(a.must, a.may)) return {filled(a.must), filled(a.must)};
    // Whether the world has a choice, whatever the branches do.
    Solver solver(ctx_);
    solver.add(a.may && !a.must);
    const bool differ = solver.check({}, 1'000'000) != Answer::unsatisfiable;
    return {filled(a.must), filled(differ ? a.may : a.must)};
}

z3::expr Encoder::filled(const z3::expr& e) {
    z3::expr_vector from(ctx_), to(ctx_);
    std::set<unsigned> seen;
    std::vector<z3::expr> open{e};
    while (!open.empty()) {
        const z3::expr next = open.back();
        open.pop_back();
        if (!seen.insert(next.id()).second) continue;
        for (unsigned i = 0; i < next.num_args(); ++i) open.push_back(next.arg(i));
        const auto found = stands_for_.find(next.id());
        if (found == stands_for_.end()) continue;
        if (options_.parts) {
            define_placeholder(next, found->second);
            continue;
        }
        from.push_back(next);
        to.push_back(happens(found->second.second, found->second.first));
    }
    z3::expr out = e;
    return out.substitute(from, to);
}

z3::expr Encoder::asked(ProbeKind kind, AnyId index) {
    const auto& probes = m_.circuit.probes;
    for (const ProbeId p : probes.ids())
        if (probes[p].kind == kind && probes[p].index == index) return answer(p);
    return truth(false);
}

z3::expr Encoder::answered_before(ProbeId probe) {
    const auto found = answers_before_.find(probe);
    if (found != answers_before_.end()) return found->second;
    const auto now = [this, probe] { return answer(probe); };
    return answers_before_.emplace(probe, before({StateRole::before, probe}, probe_name(m_, probe), now)).first->second;
}

Encoder::Truths Encoder::truths(const Probe& probe) {
    const Circuit& c = m_.circuit;
    const auto turned = [](const Truths& t) { return Truths{folded_not(t.may), folded_not(t.must)}; };
    switch (probe.kind) {
        case ProbeKind::load:
        case ProbeKind::field:
        case ProbeKind::node:
            return wired(Stage::rest, probe);
        case ProbeKind::coil:
            return coil(probe);
        case ProbeKind::input: {
            const WiredInput& i = m_.wired_inputs[probe.index];
            Truths on = wired(Stage::controller, probe);
            if (i.pulled_up) on = turned(on);
            if (i.on_when_low) on = turned(on);
            const z3::expr stuck_on = faults_.any(i.stuck_on_by), whole = folded_not(faults_.any(i.stuck_off_by));
            return {folded_or(stuck_on, folded_and(whole, on.must)), folded_or(stuck_on, folded_and(whole, on.may))};
        }
        case ProbeKind::supply:
            return wired(Stage::controller, probe);
        case ProbeKind::magneto:
            return turned(wired(Stage::rest, probe));
        case ProbeKind::flight: {
            const z3::expr wants = power_.wants(probe.index), found = signal(m_.relays[probe.index].contact);
            return {truth(false), wants != found};
        }
        case ProbeKind::passage:
            return {truth(false), world_.moved(probe.index)};
        case ProbeKind::bounce:
            return {truth(false), faults_.any(c.branches[probe.index].bounced_by)};
        case ProbeKind::chatter:
            return {truth(false), faults_.any(m_.switches[probe.index].bounced_by)};
        case ProbeKind::reset:
            return {truth(false), faults_.any(m_.supply.resets_by)};
    }
    return {truth(false), truth(false)};
}

Encoder::Truths Encoder::coil(const Probe& probe) {
    const Relay& r = m_.relays[m_.circuit.branches[probe.index].index];
    Truths t = wired(Stage::coils, probe);
    if (!m_.circuit.voltage) return t;
    const Num v = world_.quantity(m_.circuit.voltage);
    const auto is = [&](Op op, const Rational& limit) {
        const z3::expr x = rational(limit);
        return compare(op, v, Num{x, x, false});
    };
    if (r.releases_at && !voltages_may_add(m_.circuit)) t.may = folded_and(t.may, is(Op::gt, *r.releases_at));
    if (r.operates_at) t.must = folded_and(t.must, is(Op::ge, *r.operates_at));
    if (r.releases_at) t.must = folded_and(t.must, t.may);
    return t;
}

// Of what switches, how it stands without a fault of its own.
z3::expr Encoder::conducts(const Branch& b, Stage stage) {
    const auto made = [&](const z3::expr& e) { return b.makes ? e : folded_not(e); };
    if (b.kind == BranchKind::pole) {
        const ProbeId between = m_.switches[b.index].passage_probe;
        const z3::expr closed = made(world_.position(b.index));
        return between ? folded_and(closed, folded_not(answer(between))) : closed;
    }
    if (b.kind == BranchKind::contact) {
        const bool rest = stage == Stage::rest;
        const Relay& relay = m_.relays[b.index];
        const z3::expr closed = made(rest ? signal(relay.contact) : power_.contact_before(b.index));
        const ProbeId flight = relay.flight_probe;
        if (!flight) return closed;
        return folded_and(closed, folded_not(rest ? answer(flight) : answered_before(flight)));
    }
    const SignalId id = m_.outputs[b.index].signal;
    const bool before = stage == Stage::controller;
    const z3::expr on = before ? last(id) : driving(id);
    return b.makes ? on : folded_and(before ? power_.powered_before() : power_.powered(), folded_not(on));
}

z3::expr Encoder::is_live(SourceId source) {
    const Source& s = m_.circuit.sources[source];
    z3::expr live = s.live ? boolean(*s.live, {s.name, false}) : truth(true);
    if (s.field) live = folded_and(live, folded_or(answered_before(s.field), faults_.any(s.excited_by)));
    return part(s.name, live);
}

}  // namespace lanyard
