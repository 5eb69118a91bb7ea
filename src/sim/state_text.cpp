// The state in words that are the same for states that behave alike: what no rule reads any more is left out, clocks
// stand still at the last bound that matters to them.
#include "sim/machine.hpp"

namespace lanyard::sim {

namespace {

void append_elements(std::string& text, const Program& program, const std::vector<ElementState>& elements) {
    for (const int i : program.memory()) {
        const Expr& e = *program.node(i).expr;
        append_text(text, elements[static_cast<std::size_t>(e.element)], e.op);
    }
    text += "| ";
}

void append_engine(std::string& text, const EngineState& s) {
    text += mode_name(s.mode);
    for (const long n : {s.fuelled, s.lost, s.coasting, s.since_firing, s.since_turned})
        text += ' ' + std::to_string(n);
    text += " | ";
}

}  // namespace

std::string Machine::state_text() const {
    std::string text = state_.first ? "first " : "later ";
    append_engine(text, state_.engine);
    if (!state_.first) {
        for (const SignalId id : plan_->remembered) append_text(text, state_.last[static_cast<std::size_t>(id)]);
    }
    text += "| ";
    for (const auto& past : state_.past) {
        for (const auto& x : past) text += x.get_str() + ',';
        text += ' ';
    }
    for (const auto& r : state_.relays) text += std::string(r.position ? "1" : "0") + std::to_string(r.disagreed) + ' ';
    text += std::string("| ") + (state_.power.up ? '1' : '0') + std::to_string(state_.power.waiting) + " | ";
    for (const Program* p : {&plan_->guards, &plan_->supply, &plan_->logic, &plan_->observers}) {
        append_elements(text, *p, state_.elements);
    }
    plan_->monitor.append_text(text, state_.monitor);
    return text;
}

}  // namespace lanyard::sim
