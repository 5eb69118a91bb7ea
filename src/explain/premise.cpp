#include "explain/premise.hpp"

#include "claims/bounds.hpp"
#include "explain/input_events.hpp"
#include "sim/interpreter.hpp"

namespace lanyard::explain {

namespace {

ClaimId add_always(Model& m, const ExprPtr& holds, ConditionId condition) {
    Claim c;
    c.condition = condition;
    c.body = Always{holds};
    return m.claims.add(std::move(c));
}

}  // namespace

Premise::Premise(const Model& m, const Run& run, ClaimId claim) : condition_(m.claims[claim].condition) {
    const Claim& c = m.claims[claim];
    const long end = run.scans() - 1;
    ExprPtr premise, answer;
    if (const auto* a = std::get_if<Always>(&c.body)) {
        if (a->body->op == Op::implies) premise = a->body->args[0];
        first_ = last_ = end;
    } else if (const auto* r = std::get_if<Response>(&c.body); r != nullptr && r->manner != Manner::in_total) {
        premise = r->whenever;
        const long calls = response_calls(*r, m.scan), bound = response_bound(*r, m.scan);
        const bool at_once = response_is_too_fast(*r, m.scan);
        const bool lasts = r->manner == Manner::while_it_lasts;
        if (!at_once) answer = r->then;
        first_ = end + 1 - (at_once && !lasts ? calls : bound);
        last_ = lasts || at_once ? end : first_ + calls - 1;
    }
    if (!premise) return;
    asked_ = m;
    premise_ = add_always(asked_, premise, condition_);
    if (answer) answer_ = add_always(asked_, answer, condition_);
    visit(premise, [this](const Expr& e) {
        if (e.op == Op::signal || e.op == Op::last) named_.insert(e.signal);
    });
}

bool Premise::names(const InputEvent& e) const {
    if (named_.empty()) return false;
    const Model& m = asked_;
    const auto named = [this](SignalId id) { return id && named_.contains(id); };
    switch (e.kind) {
        case InputEvent::Kind::position:
            return named(m.switches[e.index].position) || named(m.switches[e.index].seen);
        case InputEvent::Kind::quantity: {
            const SignalId id = m.quantities[e.index].signal;
            if (named(id)) return true;
            for (const Sensor& s : m.sensors)
                if (m.quantities[s.quantity].signal == id && named(s.signal)) return true;
            return false;
        }
        case InputEvent::Kind::mode:
            return named(m.mode) || (m.engine && m.engine->speed && named(m.quantities[m.engine->speed].signal));
        case InputEvent::Kind::missed:
        case InputEvent::Kind::reading:
        case InputEvent::Kind::contact:
        case InputEvent::Kind::free_load:
        case InputEvent::Kind::wiring:
        case InputEvent::Kind::fault:
            return false;
    }
    return false;
}

std::vector<bool> Premise::truths(const Run& run, ClaimId which) const {
    std::vector<bool> out;
    for (const Scan& s : replay(asked_, run, condition_, which).scans) out.push_back(!s.violated);
    return out;
}

bool Premise::is_gone_in(const Run& otherwise) const {
    if (!premise_) return false;
    const std::vector<bool> premise = truths(otherwise, premise_);
    const std::vector<bool> answer = answer_ ? truths(otherwise, answer_) : std::vector<bool>(premise.size());
    for (long n = std::max(0L, first_); n <= last_ && n < std::ssize(premise); ++n) {
        if (!premise[static_cast<std::size_t>(n)]) return true;
        if (answer[static_cast<std::size_t>(n)]) return false;
    }
    return false;
}

}  // namespace lanyard::explain
