#include "sim/interpreter.hpp"

#include "lang/print.hpp"
#include "sim/machine.hpp"

namespace lanyard::sim {

struct Interpreter::Impl {
    Machine machine;
};

Interpreter::Interpreter(const Model& model, ConditionId condition, ClaimId claim)
    : impl_(std::make_unique<Impl>(Impl{Machine(model, condition, claim)})) {}
Interpreter::~Interpreter() = default;
Interpreter::Interpreter(const Interpreter& other) : impl_(std::make_unique<Impl>(*other.impl_)) {}

Scan Interpreter::step(const Choices& choices) { return sim::step(impl_->machine, choices); }
std::string Interpreter::state_text() const { return impl_->machine.state_text(); }
const Machine& Interpreter::machine() const { return impl_->machine; }

std::string Interpreter::check(const Choices& choices) const {
    Machine copy = impl_->machine;
    return sim::step(copy, choices).broken_rule;
}

Replay replay(const Model& model, const Run& run, ConditionId condition, ClaimId claim) {
    Replay out;
    Interpreter interpreter(model, condition, claim);
    const Scan last = play(interpreter, run, [&](const Choices&, const Scan& s) {
        out.demanded = out.demanded || s.demanded;
        out.scans.push_back(s);
        return true;
    });
    out.violated_at_end = last.violated;
    out.goal_at_end = last.goal;
    out.legal = last.broken_rule.empty();
    if (out.legal) return out;
    out.broken_at = std::ssize(out.scans) - 1;
    out.broken = "scan " + std::to_string(out.broken_at) + " (" + print_time(Rational(out.broken_at * model.scan)) +
                 "): " + last.broken_rule;
    return out;
}

MadeUnder made_under(const Model& model, const Run& run, ClaimId claim) {
    const ConditionId condition = model.claims[claim].condition;
    for (const ClaimId k : {claim, ClaimId()}) {
        Replay played = replay(model, run, condition, k);
        if (played.legal) return {condition, k, std::move(played)};
    }
    return {any_condition, {}, replay(model, run, any_condition, {})};
}

}  // namespace lanyard::sim
