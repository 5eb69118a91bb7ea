// Faults: each that may happen under the claim's condition, and that something in the claim's cone asks for, is a
// truth that stays once it has come. Those that nothing asks for do not happen: no run needs them.
#include <algorithm>

#include "encode/encoder.hpp"
#include "encode/folded.hpp"

namespace lanyard {

namespace {

bool names(const Condition& c, int fault) { return std::binary_search(c.faults.begin(), c.faults.end(), fault); }

}  // namespace

bool Encoder::may_happen(int fault) const {
    return std::any_of(parts_.begin(), parts_.end(), [&](const Condition* c) { return names(*c, fault); }) ||
           is_present(fault);
}

bool Encoder::is_present(int fault) const {
    const auto& all = parts_.front()->present;
    return std::binary_search(all.begin(), all.end(), fault);
}

bool Encoder::may_happen(const std::vector<int>& faults) const {
    return std::any_of(faults.begin(), faults.end(), [this](int f) { return may_happen(f); });
}

z3::expr Encoder::fault(int index) {
    if (!may_happen(index)) return truth(false);
    const auto found = faults_.find(index);
    if (found != faults_.end()) return found->second;
    if (is_present(index)) {
        s_.readback.faults[static_cast<std::size_t>(index)] = truth(true);
        fault_states_.emplace(index, truth(true));
        return faults_.emplace(index, truth(true)).first->second;
    }
    const Fault& f = m_.faults[static_cast<std::size_t>(index)];
    const z3::expr begins = input(f.name, ctx_.bool_sort());
    const z3::expr ever = state(f.name + ".ever", truth(false), "");
    const z3::expr has_begun = ever || begins;
    const z3::expr now = f.comes_and_goes ? begins : has_begun;
    state_next(ever, has_begun);
    ever_.emplace(index, has_begun);
    fault_states_.emplace(index, ever);
    z3::expr_vector where(ctx_);
    for (std::size_t part = 0; part < parts_.size(); ++part)
        if (names(*parts_[part], index))
            where.push_back(parts_[part]->from_the_start ? in_part(part) && !begun() : in_part(part));
    rule("condition: where " + f.name + " may begin", z3::implies(begins && !ever, any_of(where)));
    s_.readback.faults[static_cast<std::size_t>(index)] = now;
    s_.readback.fault_ever[static_cast<std::size_t>(index)] = has_begun;
    s_.readback.fault_begins[static_cast<std::size_t>(index)] = begins;
    return faults_.emplace(index, now).first->second;
}

z3::expr Encoder::fault_before(int index) {
    const z3::expr now = fault(index);
    const Fault& f = m_.faults[static_cast<std::size_t>(index)];
    if (!may_happen(index)) return now;
    if (is_present(index)) return begun();
    if (!f.comes_and_goes) return fault_states_.at(index);
    const z3::expr before = state(f.name + ".before", truth(false), "");
    state_next(before, now);
    return before;
}

z3::expr Encoder::any_fault(const std::vector<int>& faults) {
    z3::expr any = truth(false);
    for (const int f : faults) any = folded_or(any, fault(f));
    return any;
}

// Counted by a sequence of sums, which grows with the number of faults times the number that is allowed (C. Sinz,
// "Towards an optimal CNF encoding of Boolean cardinality constraints", CP 2005).
void Encoder::limit_faults() {
    z3::expr newly = truth(false);
    for (const auto& [index, before] : fault_states_)
        if (ever_.count(index)) newly = folded_or(newly, ever_.at(index) && !before);
    for (std::size_t part = 0; part < parts_.size(); ++part) {
        const Condition& c = *parts_[part];
        if (c.faults.empty() || ever_.empty()) continue;
        const auto obeyed = [&](const std::string& label, const z3::expr& holds) {
            rule(label, parts_.size() == 1 ? holds : z3::implies(in_part(part) && newly, holds));
        };
        std::vector<z3::expr> at_least(static_cast<std::size_t>(c.at_most) + 2, truth(false));
        at_least[0] = truth(true);
        for (const auto& [index, ever] : ever_)
            for (std::size_t n = at_least.size() - 1; n > 0; --n)
                at_least[n] = folded_or(at_least[n], folded_and(at_least[n - 1], ever));
        if (ever_.size() > static_cast<std::size_t>(c.at_most)) obeyed("condition: number of faults", !at_least.back());
        for (const auto& set : c.excluded) {
            z3::expr all = truth(true);
            for (const int f : set) all = folded_and(all, ever_.count(f) ? ever_.at(f) : truth(false));
            if (!all.is_false()) obeyed("condition: sets of faults that are known already", !all);
        }
    }
}

z3::expr Encoder::driving(SignalId id) {
    const Signal& s = m_.signal(id);
    if (s.kind != SignalKind::output) return on(id);
    const Output& o = m_.outputs[static_cast<std::size_t>(s.index)];
    return folded_or(any_fault(o.stuck_on_by), folded_and(on(id), folded_not(any_fault(o.stuck_off_by))));
}

// What a sensor shows by its faults, see Machine::reads.
Encoder::Soundness Encoder::soundness(const Sensor& sensor, const z3::expr& shown) {
    const std::string& name = m_.name_of(sensor.signal);
    z3::expr wire = truth(false), stuck = truth(false), stuck_before = truth(false);
    z3::expr frozen = truth(false), frozen_before = truth(false), off = rational(0);
    for (const int i : sensor.faults) {
        if (!may_happen(i)) continue;
        const Fault& f = m_.faults[static_cast<std::size_t>(i)];
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
        const z3::expr held = state(name + ".held", rational(0), "");
        state_next(held, z3::ite(keeps, shown, rational(0)));
        const z3::expr shows = folded_or(stuck_before, folded_and(folded_not(stuck), frozen_before));
        rule("fault: " + name + " shows what it showed", z3::implies(!wire && shows, shown == held));
    }
    return {!wire && !stuck && !frozen_before, off};
}

}  // namespace lanyard
