// What the wiring is asked, as formulas over what switches.
//
// What it decides: nothing; it states what must be and what may be (where they differ, wiring_answers.cpp lets the
// world choose). Where no more than one fault may be there, the cases are told apart (circuit/switching.hpp): the
// formula is that of the sound circuit, and for each fault that changes it another. Otherwise the levels themselves are
// formulas over switches and faults (circuit/levels.hpp); then branches stand in them by names of their own until it is
// known which matter.
//
// Why it is sound: both are exact, the first for runs that obey the limit on faults, which is a rule of the system.
// Tested against the search by tests/circuit and by the random models of tests/encode.
// Tested by: tests/circuit/levels_test.cpp
#include "encode/wiring_terms.hpp"

#include "encode/terms.hpp"

namespace lanyard::encode {

WiringTerms::Truths WiringTerms::wired(Stage stage, const Probe& probe) {
    try {
        if (s_.options().parts) {
            const auto a = *ask(levels(stage), m_, probe);
            return {filled(a.must), filled(a.may)};
        }
        if (faults_.at_most() > 1) return over_faults(*ask(levels(stage), m_, probe));
        return by_case(switching().answers([&](auto& w) { return *ask(w, m_, probe); }), stage);
    } catch (const TooLarge&) {
        throw Unsupported{"the wiring is too large"};
    }
}

Switching& WiringTerms::switching() {
    if (switching_) return *switching_;
    std::vector<FaultId> may_come;
    Indexed<Fault, bool> always(like(m_.faults));
    for (const FaultId f : m_.faults.ids()) {
        always[f] = faults_.is_present(f);
        if (faults_.may_happen(f) && !faults_.is_present(f)) may_come.push_back(f);
    }
    return switching_.emplace(m_.circuit, may_come, std::move(always));
}

WiringTerms::Truths WiringTerms::by_case(const Switching::Answers& answers, Stage stage) {
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
z3::expr WiringTerms::formula(Function f, Stage stage) {
    const Diagrams& d = switching().diagrams();
    auto& known = formulas_[stage];
    const auto of = [&](Function x) { return d.is_constant(x) ? truth(x == d.constant(true)) : known.at(x.node); };
    if (d.is_constant(f)) return of(f);
    for (const Function part : d.parts(f)) {
        if (known.count(part.node) > 0) continue;
        const z3::expr is = happens_(switching().event(d.event_of(part)), stage);
        known.emplace(part.node, folded_choice(is, of(d.on(part)), of(d.off(part))));
    }
    return known.at(f.node);
}

Levels<FaultGates>& WiringTerms::levels(Stage stage) {
    const Circuit& circuit = s_.options().parts ? wiring_in_parts().circuit : m_.circuit;
    return levels_
        .try_emplace(stage, circuit,
                     FaultGates(ctx_, [this, stage](const WiringEvent& e) { return placeholder(e, stage); }))
        .first->second;
}

z3::expr WiringTerms::placeholder(const WiringEvent& e, Stage stage) {
    if (e.kind == WiringEvent::Kind::fault && !m_.faults.has(e.index))
        return freed(wiring_in_parts().piece_of(e.index));
    if (e.kind != WiringEvent::Kind::conducts) return happens_(e, stage);
    const std::string name =
        "branch." + std::to_string(ordinal(stage)) + "." + std::to_string(e.index.to<Branch>().index());
    const z3::expr constant = ctx_.bool_const(name.c_str());
    if (stands_for_.emplace(constant.id(), std::make_pair(stage, e)).second) kept_.push_back(constant);
    return constant;
}

WiringTerms::Truths WiringTerms::over_faults(const Truths& a) {
    if (z3::eq(a.must, a.may)) return {filled(a.must), filled(a.must)};
    // Whether the world has a choice, whatever the branches do.
    Solver solver(ctx_);
    solver.add(a.may && !a.must);
    const bool differ = solver.check({}, 1'000'000) != Answer::unsatisfiable;
    return {filled(a.must), filled(differ ? a.may : a.must)};
}

z3::expr WiringTerms::filled(const z3::expr& e) {
    z3::expr_vector from(ctx_), to(ctx_);
    std::set<unsigned> seen;
    each_part(e, seen, [&](const z3::expr& part) {
        const auto found = stands_for_.find(part.id());
        if (found == stands_for_.end()) return;
        if (s_.options().parts) {
            define_placeholder(part, found->second);
            return;
        }
        from.push_back(part);
        to.push_back(happens_(found->second.second, found->second.first));
    });
    z3::expr out = e;
    return out.substitute(from, to);
}

}  // namespace lanyard::encode
