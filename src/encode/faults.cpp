// Faults: each that may happen under the claim's condition, and that something in the claim's cone asks for, is a
// truth that stays once it has come. Those that nothing asks for do not happen: no run needs them.
#include <algorithm>

#include "encode/encoder.hpp"
#include "encode/folded.hpp"

namespace lanyard {

namespace {

bool names(const Condition& c, FaultId fault) { return std::binary_search(c.faults.begin(), c.faults.end(), fault); }

}  // namespace

bool Encoder::may_happen(FaultId fault) const {
    return std::any_of(parts_.begin(), parts_.end(), [&](const Condition* c) { return names(*c, fault); }) ||
           is_present(fault);
}

bool Encoder::is_present(FaultId fault) const {
    const auto& all = parts_.front()->present;
    return std::binary_search(all.begin(), all.end(), fault);
}

bool Encoder::may_happen(const std::vector<FaultId>& faults) const {
    return std::any_of(faults.begin(), faults.end(), [this](FaultId f) { return may_happen(f); });
}

z3::expr Encoder::fault(FaultId id) {
    if (!may_happen(id)) return truth(false);
    const auto found = faults_.find(id);
    if (found != faults_.end()) return found->second;
    if (is_present(id)) {
        readback().faults[id] = truth(true);
        fault_states_.emplace(id, truth(true));
        return faults_.emplace(id, truth(true)).first->second;
    }
    const Fault& f = m_.faults[id];
    const z3::expr begins = input({StateRole::value, id}, ctx_.bool_sort());
    const z3::expr ever = state({StateRole::ever, id}, truth(false), "");
    const z3::expr has_begun = ever || begins;
    const z3::expr now = f.comes_and_goes ? begins : has_begun;
    state_next(ever, has_begun);
    ever_.emplace(id, has_begun);
    fault_states_.emplace(id, ever);
    z3::expr_vector where(ctx_);
    for (std::size_t part = 0; part < parts_.size(); ++part)
        if (names(*parts_[part], id))
            where.push_back(parts_[part]->from_the_start ? in_part(part) && !begun() : in_part(part));
    rule("condition: where " + f.name + " may begin", z3::implies(begins && !ever, any_of(where)));
    readback().faults[id] = now;
    readback().fault_ever[id] = has_begun;
    readback().fault_begins[id] = begins;
    return faults_.emplace(id, now).first->second;
}

z3::expr Encoder::fault_before(FaultId id) {
    const z3::expr now = fault(id);
    const Fault& f = m_.faults[id];
    if (!may_happen(id)) return now;
    if (is_present(id)) return begun();
    if (!f.comes_and_goes) return fault_states_.at(id);
    const z3::expr before = state({StateRole::before, id}, truth(false), "");
    state_next(before, now);
    return before;
}

z3::expr Encoder::any_fault(const std::vector<FaultId>& faults) {
    z3::expr any = truth(false);
    for (const FaultId f : faults) any = folded_or(any, fault(f));
    return any;
}

// Counted by a sequence of sums, which grows with the number of faults times the number that is allowed (C. Sinz,
// "Towards an optimal CNF encoding of Boolean cardinality constraints", CP 2005).
void Encoder::limit_faults() {
    z3::expr newly = truth(false);
    for (const auto& [id, before] : fault_states_)
        if (ever_.count(id)) newly = folded_or(newly, ever_.at(id) && !before);
    for (std::size_t part = 0; part < parts_.size(); ++part) {
        const Condition& c = *parts_[part];
        if (c.faults.empty() || ever_.empty()) continue;
        const auto obeyed = [&](const std::string& label, const z3::expr& holds) {
            rule(label, parts_.size() == 1 ? holds : z3::implies(in_part(part) && newly, holds));
        };
        std::vector<z3::expr> at_least(static_cast<std::size_t>(c.at_most) + 2, truth(false));
        at_least[0] = truth(true);
        for (const auto& [id, ever] : ever_)
            for (std::size_t n = at_least.size() - 1; n > 0; --n)
                at_least[n] = folded_or(at_least[n], folded_and(at_least[n - 1], ever));
        if (std::ssize(ever_) > c.at_most) obeyed("condition: number of faults", !at_least.back());
        for (const auto& set : c.excluded) {
            z3::expr all = truth(true);
            for (const FaultId f : set) all = folded_and(all, ever_.count(f) ? ever_.at(f) : truth(false));
            if (!all.is_false()) obeyed("condition: sets of faults that are known already", !all);
        }
    }
}

z3::expr Encoder::driving(SignalId id) {
    const Signal& s = m_.signal(id);
    if (s.kind != SignalKind::output) return on(id);
    const Output& o = m_.outputs[s.index];
    return folded_or(any_fault(o.stuck_on_by), folded_and(on(id), folded_not(any_fault(o.stuck_off_by))));
}

// What a sensor shows by its faults, see Machine::reads.
Encoder::Soundness Encoder::soundness(const Sensor& sensor, const z3::expr& shown) {
    const std::string& name = m_.name_of(sensor.signal);
    z3::expr wire = truth(false), stuck = truth(false), stuck_before = truth(false);
    z3::expr frozen = truth(false), frozen_before = truth(false), off = rational(0);
    for (const FaultId i : sensor.faults) {
        if (!may_happen(i)) continue;
        const Fault& f = m_.faults[i];
        if (f.kind == FaultKind::sensor_stuck) {
            stuck = fault(i);
            stuck_before = stuck && fault_before(i);
        } else if (f.kind == FaultKind::sensor_frozen) {
            frozen = fault(i);
            frozen_before = frozen && fault_before(i);
        } else if (f.kind == FaultKind::sensor_drift) {
            if (sensor.delay != 0) throw Unsupported{"the delayed sensor '" + name + "' may drift"};
            if (f.value) off = z3::ite(fault(i), rational(*f.value), rational(0));
        } else {
            if (f.value) rule("fault: " + f.name, z3::implies(fault(i) && !wire, shown == rational(*f.value)));
            wire = folded_or(wire, fault(i));
        }
    }
    const z3::expr keeps = folded_or(stuck, frozen);
    if (!keeps.is_false()) {
        const z3::expr held = state({StateRole::held, sensor.signal}, rational(0), "");
        state_next(held, z3::ite(keeps, shown, rational(0)));
        const z3::expr shows = folded_or(stuck_before, folded_and(folded_not(stuck), frozen_before));
        rule("fault: " + name + " shows what it showed", z3::implies(!wire && shows, shown == held));
    }
    return {!wire && !stuck && !frozen_before, off};
}

}  // namespace lanyard
