#include "sim/monitor.hpp"

#include <algorithm>

namespace lanyard::sim {

Monitor::Monitor(const Model& model, const Claim* claim, Program& observers) {
    if (!claim) return;
    if (const auto* a = std::get_if<Always>(&claim->body)) {
        kind_ = Kind::always;
        body_ = observers.add(a->body);
        if (a->body->op == Op::implies) premise_ = observers.add(a->body->args[0]);
    } else if (const auto* r = std::get_if<Response>(&claim->body)) {
        kind_ = Kind::response;
        premise_ = observers.add(r->whenever);
        body_ = observers.add(r->then);
        bound_ = response_bound(*r, model.scan);
        too_fast_ = response_is_too_fast(*r, model.scan);
    } else if (const auto* p = std::get_if<Possible>(&claim->body)) {
        kind_ = Kind::possible;
        body_ = observers.add(p->body);
    } else if (const auto* s = std::get_if<Procedure>(&claim->body)) {
        const auto& steps = *s;
        kind_ = Kind::procedure;
        driver_.emplace(model, steps, observers);
        body_ = observers.add(steps.goal);
        if (steps.within) deadline_ = scans_down(*steps.within, model.scan);
    }
}

long Monitor::held_now(const MonitorState& s, const Evaluator& observers) const {
    return observers.truth(premise_) ? std::min(s.held + 1, bound_) : 0;
}

// A bound that no controller of this scan period can meet is broken as soon as its premise is there.
Judgement Monitor::judge_response(const MonitorState& s, const Evaluator& observers) const {
    Judgement j;
    j.demanded = held_now(s, observers) >= bound_;
    j.violated = j.demanded && (too_fast_ || !observers.truth(body_));
    return j;
}

bool Monitor::goal_seen(const MonitorState& s, const Evaluator& observers) const {
    return s.seen || (s.driver.phase >= driver_->last() && observers.truth(body_));
}

Judgement Monitor::judge_procedure(const MonitorState& s, const Evaluator& observers) const {
    Judgement j;
    j.goal = goal_seen(s, observers);
    j.demanded = deadline_ ? s.scans == *deadline_ : driver_->is_over(s.driver.phase) && s.driver.scans == 0;
    j.violated = j.demanded && !j.goal;
    return j;
}

Judgement Monitor::judge(const MonitorState& s, const Evaluator& observers) const {
    Judgement j;
    switch (kind_) {
        case Kind::none:
            break;
        case Kind::always:
            j.violated = !observers.truth(body_);
            j.demanded = premise_ < 0 || observers.truth(premise_);
            break;
        case Kind::response:
            return judge_response(s, observers);
        case Kind::possible:
            j.goal = observers.truth(body_);
            break;
        case Kind::procedure:
            return judge_procedure(s, observers);
    }
    return j;
}

bool Monitor::until(const MonitorState& s, const Evaluator& observers) const {
    if (!driver_ || driver_->is_over(s.driver.phase)) return false;
    const int node = driver_->step(s.driver.phase).until;
    return node >= 0 && observers.truth(node);
}

Leave Monitor::driver_leave(const MonitorState& s, const Evaluator& observers) const {
    return driver_ ? may_move_on(s.driver, *driver_, until(s, observers)) : Leave{};
}

void Monitor::go_on(MonitorState& s, const Evaluator& observers, bool claim_moves_on) const {
    if (kind_ == Kind::response) s.held = held_now(s, observers);
    if (kind_ != Kind::procedure) return;
    s.seen = goal_seen(s, observers);
    if (deadline_) s.scans = std::min(s.scans + 1, *deadline_ + 1);
    sim::go_on(s.driver, *driver_, until(s, observers), claim_moves_on);
}

void Monitor::append_text(std::string& text, const MonitorState& s) const {
    if (kind_ == Kind::response) text += std::to_string(s.held);
    if (kind_ != Kind::procedure) return;
    text += std::to_string(s.driver.phase) + ' ' + std::to_string(s.driver.scans) + ' ' +
            std::to_string(s.driver.seen) + ' ' + (s.seen ? '1' : '0') + ' ' + std::to_string(s.scans);
}

}  // namespace lanyard::sim
