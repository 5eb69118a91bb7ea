#include "encode/wiring_answers.hpp"

#include "base/log.hpp"
#include "circuit/words.hpp"

namespace lanyard::encode {

z3::expr WiringAnswers::answer(ProbeId probe) {
    if (const auto* known = find(answers_, probe)) return *known;
    const logging::Stopwatch watch;
    const Truths t = truths(m_.circuit.probes[probe]);
    LANYARD_LOG(trace, "wiring asked: {}, {}, {:.3f} s", probe_name(m_, probe),
                z3::eq(t.must, t.may) ? "decided by what switches" : "open where the world may choose",
                watch.seconds());
    z3::expr value = t.must;
    if (!z3::eq(t.must, t.may)) {
        const z3::expr choice = s_.choice({StateRole::fed, probe});
        s_.readback().wiring_choices[probe] = choice;
        value = folded_or(value, folded_and(t.may, choice));
    }
    s_.readback().wiring[probe] = value;
    return answers_.emplace(probe, value).first->second;
}

z3::expr WiringAnswers::asked(ProbeKind kind, AnyId index) {
    const auto& probes = m_.circuit.probes;
    for (const ProbeId p : probes.ids())
        if (probes[p].kind == kind && probes[p].index == index) return answer(p);
    return truth(false);
}

z3::expr WiringAnswers::before(ProbeId probe) {
    if (const auto* known = find(before_, probe)) return *known;
    const auto now = [this, probe] { return answer(probe); };
    return before_.emplace(probe, s_.before({StateRole::before, probe}, probe_name(m_, probe), now)).first->second;
}

z3::expr WiringAnswers::happens(const WiringEvent& e, Stage stage) {
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

WiringAnswers::Truths WiringAnswers::truths(const Probe& probe) {
    const Circuit& c = m_.circuit;
    const auto turned = [](const Truths& t) { return Truths{folded_not(t.may), folded_not(t.must)}; };
    switch (probe.kind) {
        case ProbeKind::load:
        case ProbeKind::field:
        case ProbeKind::node:
            return terms_.wired(Stage::rest, probe);
        case ProbeKind::coil:
            return coil(probe);
        case ProbeKind::input: {
            const WiredInput& i = m_.wired_inputs[probe.index];
            Truths on = terms_.wired(Stage::controller, probe);
            if (i.pulled_up) on = turned(on);
            if (i.on_when_low) on = turned(on);
            const z3::expr stuck_on = faults_.any(i.stuck_on_by), whole = folded_not(faults_.any(i.stuck_off_by));
            return {folded_or(stuck_on, folded_and(whole, on.must)), folded_or(stuck_on, folded_and(whole, on.may))};
        }
        case ProbeKind::supply:
            return terms_.wired(Stage::controller, probe);
        case ProbeKind::magneto:
            return turned(terms_.wired(Stage::rest, probe));
        case ProbeKind::flight: {
            const z3::expr wants = power_.wants(probe.index), found = meaning_.signal(m_.relays[probe.index].contact);
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

WiringAnswers::Truths WiringAnswers::coil(const Probe& probe) {
    const Relay& r = m_.relays[m_.circuit.branches[probe.index].index];
    Truths t = terms_.wired(Stage::coils, probe);
    if (!m_.circuit.voltage) return t;
    const Num v = meaning_.signal_number(m_.quantities[m_.circuit.voltage].signal);
    const auto is = [&](Op op, const Rational& limit) { return s_.compare(op, v, constant(limit)); };
    if (r.releases_at && !voltages_may_add(m_.circuit)) t.may = folded_and(t.may, is(Op::gt, *r.releases_at));
    if (r.operates_at) t.must = folded_and(t.must, is(Op::ge, *r.operates_at));
    if (r.releases_at) t.must = folded_and(t.must, t.may);
    return t;
}

// Of what switches, how it stands without a fault of its own.
z3::expr WiringAnswers::conducts(const Branch& b, Stage stage) {
    const auto made = [&](const z3::expr& e) { return b.makes ? e : folded_not(e); };
    if (b.kind == BranchKind::pole) {
        const ProbeId between = m_.switches[b.index].passage_probe;
        const z3::expr closed = made(world_.position(b.index));
        return between ? folded_and(closed, folded_not(answer(between))) : closed;
    }
    if (b.kind == BranchKind::contact) {
        const bool rest = stage == Stage::rest;
        const Relay& relay = m_.relays[b.index];
        const z3::expr closed = made(rest ? meaning_.signal(relay.contact) : power_.contact_before(b.index));
        const ProbeId flight = relay.flight_probe;
        if (!flight) return closed;
        return folded_and(closed, folded_not(rest ? answer(flight) : before(flight)));
    }
    const SignalId id = m_.outputs[b.index].signal;
    const bool early = stage == Stage::controller;
    const z3::expr on = early ? meaning_.last(id) : meaning_.driving(id);
    return b.makes ? on : folded_and(early ? power_.powered_before() : power_.powered(), folded_not(on));
}

z3::expr WiringAnswers::is_live(SourceId source) {
    const Source& s = m_.circuit.sources[source];
    z3::expr live = s.live ? meaning_.boolean(*s.live, {s.name, false}) : truth(true);
    if (s.field) live = folded_and(live, folded_or(before(s.field), faults_.any(s.excited_by)));
    return s_.part(s.name, live);
}

}  // namespace lanyard::encode
