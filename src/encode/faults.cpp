// Faults: each that may happen under the claim's condition, and that something in the claim's cone asks for, is a
// truth that stays once it has come. Those that nothing asks for do not happen: no run needs them.
#include "encode/faults.hpp"

#include <algorithm>

#include "encode/folded.hpp"

namespace lanyard::encode {

namespace {

bool names(const Condition& c, FaultId fault) { return std::binary_search(c.faults.begin(), c.faults.end(), fault); }

}  // namespace

bool Faults::may_happen(FaultId fault) const {
    return std::any_of(parts_.begin(), parts_.end(), [&](const Condition* c) { return names(*c, fault); }) ||
           is_present(fault);
}

bool Faults::is_present(FaultId fault) const {
    const auto& all = parts_.front()->present;
    return std::binary_search(all.begin(), all.end(), fault);
}

bool Faults::may_happen(const std::vector<FaultId>& faults) const {
    return std::any_of(faults.begin(), faults.end(), [this](FaultId f) { return may_happen(f); });
}

int Faults::at_most() const {
    int most = 0;
    for (const Condition* c : parts_)
        if (!c->faults.empty()) most = std::max(most, c->at_most);
    return most;
}

z3::expr Faults::fault(FaultId id) {
    if (!may_happen(id)) return truth(false);
    if (const auto* known = find(faults_, id)) return *known;
    if (is_present(id)) {
        s_.readback().faults[id] = truth(true);
        states_.emplace(id, truth(true));
        return faults_.emplace(id, truth(true)).first->second;
    }
    const Fault& f = m_.faults[id];
    const z3::expr begins = s_.choice({StateRole::value, id});
    const z3::expr ever = s_.state({StateRole::ever, id}, truth(false), "");
    const z3::expr has_begun = ever || begins;
    const z3::expr now = f.comes_and_goes ? begins : has_begun;
    s_.state_next(ever, has_begun);
    ever_.emplace(id, has_begun);
    states_.emplace(id, ever);
    z3::expr_vector where(ctx_);
    for (std::size_t part = 0; part < parts_.size(); ++part)
        if (names(*parts_[part], id))
            where.push_back(parts_[part]->from_the_start ? conditions_.in_part(part) && !conditions_.begun()
                                                         : conditions_.in_part(part));
    s_.rule("condition: where " + f.name + " may begin", z3::implies(begins && !ever, any_of(where)));
    s_.readback().faults[id] = now;
    s_.readback().fault_ever[id] = has_begun;
    s_.readback().fault_begins[id] = begins;
    return faults_.emplace(id, now).first->second;
}

z3::expr Faults::before(FaultId id) {
    const z3::expr now = fault(id);
    const Fault& f = m_.faults[id];
    if (!may_happen(id)) return now;
    if (is_present(id)) return conditions_.begun();
    if (!f.comes_and_goes) return states_.at(id);
    const z3::expr before = s_.state({StateRole::before, id}, truth(false), "");
    s_.state_next(before, now);
    return before;
}

z3::expr Faults::any(const std::vector<FaultId>& faults) {
    z3::expr any = truth(false);
    for (const FaultId f : faults) any = folded_or(any, fault(f));
    return any;
}

// Counted by a sequence of sums, which grows with the number of faults times the number that is allowed (C. Sinz,
// "Towards an optimal CNF encoding of Boolean cardinality constraints", CP 2005).
void Faults::limit() {
    z3::expr newly = truth(false);
    for (const auto& [id, before] : states_)
        if (ever_.count(id)) newly = folded_or(newly, ever_.at(id) && !before);
    for (std::size_t part = 0; part < parts_.size(); ++part) {
        const Condition& c = *parts_[part];
        if (c.faults.empty() || ever_.empty()) continue;
        const auto obeyed = [&](const std::string& label, const z3::expr& holds) {
            s_.rule(label, parts_.size() == 1 ? holds : z3::implies(conditions_.in_part(part) && newly, holds));
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

}  // namespace lanyard::encode
