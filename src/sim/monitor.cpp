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
        set_up(model, *r, observers);
    } else if (const auto* p = std::get_if<Possible>(&claim->body)) {
        kind_ = Kind::possible;
        body_ = observers.add(p->body);
    } else if (const auto* l = std::get_if<ChangeLimit>(&claim->body)) {
        kind_ = Kind::changes;
        body_ = observers.add(l->body);
        calls_ = l->at_most + 1;
        window_ = change_window(*l, model.scan);
    } else if (const auto* goal = std::get_if<Recoverable>(&claim->body)) {
        set_up(model, *goal, observers);
    } else {
        set_up(model, std::get<Procedure>(claim->body), observers);
    }
}

void Monitor::set_up(const Model& model, const Response& r, Program& observers) {
    kind_ = r.manner == Manner::while_it_lasts ? Kind::while_it_lasts
            : r.manner == Manner::once_begun   ? Kind::once_begun
                                               : Kind::in_total;
    premise_ = observers.add(r.whenever);
    body_ = observers.add(r.then);
    bound_ = response_bound(r, model.scan);
    calls_ = response_calls(r, model.scan);
    window_ = total_window(r, model.scan);
    too_fast_ = response_is_too_fast(r, model.scan);
}

void Monitor::set_up(const Model& model, const Procedure& p, Program& observers) {
    kind_ = Kind::procedure;
    driver_.emplace(model, p, observers);
    body_ = observers.add(p.goal);
    if (p.from) premise_ = observers.add(p.from);
    if (p.within) deadline_ = scans_down(*p.within, model.scan);
    any_time_ = p.any_time;
    untouched_ = p.untouched;
}

void Monitor::set_up(const Model& model, const Recoverable& r, Program& observers) {
    kind_ = Kind::recoverable;
    body_ = observers.add(r.body);
    if (r.within) deadline_ = scans_down(*r.within, model.scan);
    for (const bool may : r.may_move) untouched_.push_back(!may);
}

MonitorState Monitor::start() const {
    MonitorState s;
    s.begun = kind_ == Kind::procedure && !premise_;
    return s;
}

// A bound that no controller of this scan period can meet is broken as soon as its premise is there.
Judgement Monitor::take_while(MonitorState& s, const Evaluator& observers) const {
    s.held = observers.truth(premise_) ? std::min(s.held + 1, bound_) : 0;
    Judgement j;
    j.demanded = s.held >= bound_;
    j.violated = j.demanded && (too_fast_ || !observers.truth(body_));
    return j;
}

// Counts the scans since the response may come to be too late; is it?
bool Monitor::owes(MonitorState& s, bool called_for, bool answered) const {
    const bool open = !answered && (called_for || s.owed);
    s.age = open ? std::min(s.age + 1, bound_) : 0;
    return open;
}

Judgement Monitor::take_once(MonitorState& s, const Evaluator& observers) const {
    const bool p = observers.truth(premise_);
    s.held = p ? std::min(s.held + 1, calls_) : 0;
    const bool open = owes(s, p, observers.truth(body_));
    s.owed = open && (s.owed || s.age >= calls_);
    Judgement j;
    j.demanded = s.held >= calls_;
    j.violated = too_fast_ ? j.demanded : s.owed && s.age >= bound_;
    return j;
}

// One window is watched in a run, from where the choices say: claims are about every run, and so about every window.
bool Monitor::in_window(MonitorState& s, bool moves_on) const {
    s.begun = s.begun || moves_on;
    s.window = s.begun ? std::min(s.window + 1, window_ + 1) : 0;
    return s.begun && s.window <= window_;
}

Judgement Monitor::take_total(MonitorState& s, const Evaluator& observers, bool moves_on) const {
    const bool counts = in_window(s, moves_on) && observers.truth(premise_);
    if (counts) s.counted = std::min(s.counted + 1, calls_);
    Judgement j;
    j.demanded = counts && s.counted >= calls_;
    s.owed = owes(s, j.demanded, observers.truth(body_));
    j.violated = too_fast_ ? j.demanded : s.owed && s.age >= bound_;
    return j;
}

bool Monitor::changed(const MonitorState& s, const Evaluator& observers) const {
    return !s.first && observers.truth(body_) != s.before;
}

Judgement Monitor::take_changes(MonitorState& s, const Evaluator& observers, bool moves_on) const {
    const bool change = changed(s, observers);
    const bool counts = in_window(s, moves_on) && change;
    if (counts) s.counted = std::min(s.counted + 1, calls_);
    s.first = false;
    s.before = observers.truth(body_);
    Judgement j;
    j.demanded = true;
    j.violated = counts && s.counted >= calls_;
    return j;
}

Judgement Monitor::take_recoverable(MonitorState& s, const Evaluator& observers, bool moves_on) const {
    Judgement j;
    if (s.begun && deadline_) s.scans = std::min(s.scans + 1, *deadline_ + 1);
    j.demanded = s.begun;
    j.goal = s.begun && observers.truth(body_) && (!deadline_ || s.scans <= *deadline_);
    s.begun = s.begun || moves_on;
    return j;
}

Judgement Monitor::take_procedure(MonitorState& s, const Evaluator& observers, bool moves_on) const {
    Judgement j;
    if (!s.begun) {
        s.begun = moves_on;
        return j;
    }
    s.seen = s.seen || ((any_time_ || s.driver.phase >= driver_->last()) && observers.truth(body_));
    j.goal = s.seen;
    j.demanded = deadline_ ? s.scans == *deadline_ : driver_->is_over(s.driver.phase) && s.driver.scans == 0;
    j.violated = j.demanded && !j.goal;
    if (deadline_) s.scans = std::min(s.scans + 1, *deadline_ + 1);
    sim::go_on(s.driver, *driver_, until(s, observers), moves_on);
    return j;
}

Judgement Monitor::go_on(MonitorState& s, const Evaluator& observers, bool moves_on) const {
    Judgement j;
    switch (kind_) {
        case Kind::none:
            break;
        case Kind::always:
            j.violated = !observers.truth(body_);
            j.demanded = !premise_ || observers.truth(premise_);
            break;
        case Kind::while_it_lasts:
            return take_while(s, observers);
        case Kind::once_begun:
            return take_once(s, observers);
        case Kind::in_total:
            return take_total(s, observers, moves_on);
        case Kind::changes:
            return take_changes(s, observers, moves_on);
        case Kind::possible:
            j.goal = observers.truth(body_);
            break;
        case Kind::recoverable:
            return take_recoverable(s, observers, moves_on);
        case Kind::procedure:
            return take_procedure(s, observers, moves_on);
    }
    return j;
}

bool Monitor::until(const MonitorState& s, const Evaluator& observers) const {
    if (!driver_ || driver_->is_over(s.driver.phase)) return false;
    const OperationId waited_for = driver_->step(s.driver.phase).until;
    return waited_for && observers.truth(waited_for);
}

Permission Monitor::permission(const MonitorState& s, const Evaluator& observers) const {
    switch (kind_) {
        case Kind::none:
        case Kind::always:
        case Kind::possible:
        case Kind::while_it_lasts:
        case Kind::once_begun:
            return {};
        case Kind::in_total:
            return {!s.begun && observers.truth(premise_), false};
        case Kind::changes:
            return {!s.begun && changed(s, observers), false};
        case Kind::recoverable:
            return {!s.begun, false};
        case Kind::procedure:
            if (!s.begun) return {observers.truth(premise_), false};
            return may_move_on(s.driver, *driver_, until(s, observers));
    }
    return {};
}

std::optional<bool> Monitor::driver_position(const MonitorState& s, SwitchId hand_switch) const {
    if (!driver_ || !s.begun) return std::nullopt;
    return driver_->positions(s.driver.phase)[hand_switch];
}

const Interval* Monitor::world(const MonitorState& s, QuantityId quantity) const {
    if (!driver_ || !s.begun || driver_->is_over(s.driver.phase)) return nullptr;
    for (const auto& [which, values] : driver_->step(s.driver.phase).world)
        if (which == quantity) return &values;
    return nullptr;
}

bool Monitor::nobody_cranks(const MonitorState& s) const {
    if (!driver_ || !s.begun || driver_->is_over(s.driver.phase)) return false;
    return driver_->step(s.driver.phase).phase->nobody_cranks;
}

void Monitor::append_text(std::string& text, const MonitorState& s) const {
    for (const long n : {s.held, s.driver.phase, s.driver.scans, s.driver.seen, s.scans, s.age, s.window, s.counted})
        text += std::to_string(n) + ' ';
    for (const bool b : {s.seen, s.begun, s.owed, s.first, s.before}) text += b ? '1' : '0';
}

}  // namespace lanyard::sim
