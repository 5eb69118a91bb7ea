#include "sim/interpreter.hpp"

#include "lang/print.hpp"
#include "sim/machine.hpp"

namespace lanyard {

struct Interpreter::Impl {
    sim::Machine machine;
};

Interpreter::Interpreter(const Model& model, ConditionId condition, ClaimId claim)
    : impl_(std::make_unique<Impl>(Impl{sim::Machine(model, condition, claim)})) {}
Interpreter::~Interpreter() = default;
Interpreter::Interpreter(const Interpreter& other) : impl_(std::make_unique<Impl>(*other.impl_)) {}

Scan Interpreter::step(const Choices& choices) { return impl_->machine.step(choices); }
std::string Interpreter::state_text() const { return impl_->machine.state_text(); }
Mode Interpreter::mode() const { return impl_->machine.state().engine.mode; }
const sim::Machine& Interpreter::machine() const { return impl_->machine; }

std::string Interpreter::check(const Choices& choices) const {
    sim::Machine copy = impl_->machine;
    return copy.step(choices).broken_rule;
}

namespace {

// Plays one scan of the replay; false: a rule is broken.
bool play(Interpreter& interpreter, const Choices& choices, const Rational& period, Replay& out) {
    Scan s = interpreter.step(choices);
    const auto n = static_cast<long>(out.scans.size());
    out.violated_at_end = s.violated;
    out.goal_at_end = s.goal;
    out.demanded = out.demanded || s.demanded;
    const std::string broken = s.broken_rule;
    out.scans.push_back(std::move(s));
    if (broken.empty()) return true;
    out.broken = "scan " + std::to_string(n) + " (" + print_time(Rational(n * period)) + "): " + broken;
    out.broken_at = n;
    return false;
}

}  // namespace

Replay replay(const Model& model, const Run& run, ConditionId condition, ClaimId claim) {
    Replay out;
    Interpreter interpreter(model, condition, claim);
    out.legal = true;
    each_scan(run, [&](const Choices& c) {
        out.legal = play(interpreter, c, model.scan, out);
        return out.legal;
    });
    return out;
}

}  // namespace lanyard
