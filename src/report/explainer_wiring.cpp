// Why the wiring answers as it does: loads, coils, inputs, the controller's supply.
#include <algorithm>

#include "circuit/gap.hpp"
#include "circuit/words.hpp"
#include "report/explainer_ways.hpp"
#include "report/words.hpp"

namespace lanyard::report {

namespace {

struct WiringWalker : Walker {
    List probe(ProbeId id, long scan) {
        const Circuit& c = m_.circuit;
        const Probe& p = c.probes[id];
        const std::string name = probe_name(m_, id);
        switch (p.kind) {
            case ProbeKind::load:
                return why_works(p.index, view(scan, sim::Look::rest, p.index));
            case ProbeKind::coil:
                return why_coil(id, view(scan, sim::Look::coils, p.index));
            case ProbeKind::input:
                return why_input(m_.wired_inputs[p.index], view(scan, sim::Look::before_controller));
            case ProbeKind::supply:
                return why_fed(*this, {c.supply_plus, c.supply_minus}, {}, "controller",
                               view(scan, sim::Look::before_controller));
            case ProbeKind::field:
                return why_works(c.sources[p.index].winding, view(scan, sim::Look::rest, c.sources[p.index].winding));
            case ProbeKind::node:
                return node(p.index, name, scan);
            case ProbeKind::magneto:
                return why_fed(*this, {{}, c.magneto_lead[p.index]}, {}, name, view(scan, sim::Look::rest));
            case ProbeKind::flight:
            case ProbeKind::passage:
            case ProbeKind::bounce:
            case ProbeKind::chatter:
            case ProbeKind::reset:
                break;
        }
        return {};
    }

    List node(NodeId node, const std::string& name, long scan) const {
        return why_fed(*this, {node, {}}, {}, name, view(scan, sim::Look::rest));
    }

    List contact(RelayId relay, long scan) {
        const Relay& r = m_.relays[relay];
        const bool energised = film_.answer(r.coil_probe, scan);
        if (changes_ && energised == on(r.contact, scan)) scan = film_.answer_since(r.coil_probe, scan);
        const Deeper deeper(told_);
        Reason coil{probe_name(m_, r.coil_probe) + (energised ? " energised" : " not energised"), {}};
        if (!told_.budget_exhausted()) coil.because = probe(r.coil_probe, scan);
        if (energised == on(r.contact, scan)) return {coil};
        if (there(r.slow_by, scan)) return of_faults(r.slow_by, scan);
        const Interval& takes = energised ? r.pulls_in : r.drops_out;
        return one("it may take " + duration_text(takes.hi) + " to " + (energised ? "pull in" : "drop out"), {coil});
    }

    // By the return by which the load or coil may work, if one is asked about.
    WiringView view(long scan, sim::Look look, BranchId branch = {}) const {
        WiringView v{scan, look, film_.flow(scan, look), film_.standing(scan, look).live};
        if (branch) v.flow.turn_to(branch);
        return v;
    }

    // Which end has to have plus: where that does not matter, the way round that works, or lacks the least.
    List why_works(BranchId branch, const WiringView& v) {
        const Branch& b = m_.circuit.branches[branch];
        if (!v.flow.closed(branch)) return of_faults(b.opened_by, v.scan);
        const PowerEnds forwards{b.from, b.to}, backwards{b.to, b.from};
        if (b.polar) return why_fed(*this, forwards, branch, b.name, v);
        const auto lacks = [&](const PowerEnds& e) {
            std::size_t sum = 0;
            for (const auto& [node, sign] : {std::pair(e.plus, Sign::plus), std::pair(e.minus, Sign::ground)}) {
                if (v.flow.has(node, sign)) continue;
                const auto g = gap(m_.circuit, v.flow, v.live, node, sign, branch, false);
                // Through other loads is further than any number of contacts.
                sum += v.flow.weak_way(node, sign, branch) ? 1 : g ? 1 + g->size() : m_.circuit.branches.size();
            }
            return sum;
        };
        return why_fed(*this, lacks(backwards) < lacks(forwards) ? backwards : forwards, branch, b.name, v);
    }

    std::optional<Reason> coil_voltage(const Relay& r, long scan) const {
        if (!m_.circuit.voltage) return std::nullopt;
        const SignalId id = m_.quantities[m_.circuit.voltage].signal;
        const auto& volts = std::get<Rational>(film_.at(scan).signals[id]);
        const std::string is = m_.name_of(id) + " " + number_text(m_, id, volts);
        if (r.releases_at && volts <= *r.releases_at)
            return Reason{is + " is not above " + number_text(m_, id, *r.releases_at) + ", where it drops out", {}};
        if (r.operates_at && volts < *r.operates_at)
            return Reason{is + " is below " + number_text(m_, id, *r.operates_at) + ": it may or may not pull in", {}};
        return std::nullopt;
    }

    bool hangs_on_itself(BranchId branch, const WiringView& v) const {
        const Branch& coil = m_.circuit.branches[branch];
        for (const NodeId node : {coil.from, coil.to})
            for (const Sign sign : {Sign::plus, Sign::ground}) {
                const auto way = v.flow.way(node, sign);
                if (way && std::any_of(way->branches.begin(), way->branches.end(), [&](BranchId b) {
                        const Branch& x = m_.circuit.branches[b];
                        return x.kind == BranchKind::contact && x.index == coil.index && x.makes;
                    }))
                    return true;
            }
        return false;
    }

    List why_coil(ProbeId probe, const WiringView& v) {
        const BranchId branch = m_.circuit.probes[probe].index;
        const Relay& r = m_.relays[m_.circuit.branches[branch].index];
        const bool energised = film_.answer(probe, v.scan);
        const long since = film_.answer_since(probe, v.scan);
        if (energised && since < v.scan && hangs_on_itself(branch, v))
            return one("it has held itself on since " + time(since), this->probe(probe, since));
        const auto volts = coil_voltage(r, v.scan);
        // Without enough voltage it does not matter what feeds it.
        const bool fed = v.flow.works(branch).may;
        if (volts && !energised && fed) return {*volts};
        List out = why_works(branch, v);
        if (volts && energised) out.push_back(*volts);
        return out;
    }

    List why_input(const WiredInput& w, const WiringView& v) {
        const List broken = of_faults(on(w.signal, v.scan) ? w.stuck_on_by : w.stuck_off_by, v.scan);
        if (!broken.empty()) return broken;
        return why_fed(*this, w.pulled_up ? PowerEnds{{}, w.node} : PowerEnds{w.node, {}}, {}, m_.name_of(w.signal), v);
    }
};

}  // namespace

std::vector<Reason> Explainer::probe(ProbeId id, long scan) { return WiringWalker{walker_}.probe(id, scan); }

std::vector<Reason> Explainer::node(NodeId id, const std::string& name, long scan) {
    return WiringWalker{walker_}.node(id, name, scan);
}

std::vector<Reason> Explainer::wired_contact(RelayId id, long scan) { return WiringWalker{walker_}.contact(id, scan); }

}  // namespace lanyard::report
