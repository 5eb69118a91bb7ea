#include "prove/playbook.hpp"

#include <algorithm>

#include "claims/cone.hpp"
#include "lang/print.hpp"
#include "model/make_expr.hpp"
#include "sim/landmarks.hpp"
#include "sim/words.hpp"

namespace lanyard::prove {

namespace {

const Recoverable& goal_of(const Model& m, ClaimId claim) { return std::get<Recoverable>(m.claims[claim].body); }

class Steps {
 public:
    Steps(const Model& m, ClaimId claim, const PlaybookStyle& style)
        : model_(m),
          goal_(goal_of(m, claim)),
          style_(style),
          settling_(settling_time(m, claim)),
          pins_(like(m.quantities)) {}

    void take(const Choices& c) {
        const bool moved = style_.world && before_ && moves(c);
        if (steps_.empty() || steps_.back().positions != hands(c) || moved) begin(c);
        if (moved) pin(c);
        if (c.next_mode == Mode::cranking && !was_cranking_) steps_.back().nobody_cranks = false;
        was_cranking_ = c.next_mode == Mode::cranking;
        ++scans_;
        before_ = c;
    }
    // The scan before the first step.
    void first(const Choices& c) {
        before_ = c;
        was_cranking_ = c.next_mode == Mode::cranking;
    }

    std::vector<Phase> finish() {
        end_step();
        return std::move(steps_);
    }

 private:
    Indexed<Switch, bool> hands(const Choices& c) const {
        Indexed<Switch, bool> out = c.positions;
        for (const SwitchId i : out.ids())
            if (!goal_.may_move[i]) out[i] = model_.switches[i].rests_on;
        return out;
    }
    // The engine's speed goes with its mode, which no step says.
    bool may_pin(QuantityId q) const { return !model_.engine || model_.engine->speed != q; }
    bool moves(const Choices& c) const {
        for (const QuantityId q : pins_.ids())
            if (may_pin(q) && c.quantities[q] != before_->quantities[q]) return true;
        return false;
    }
    void pin(const Choices& c) {
        for (const QuantityId q : pins_.ids())
            if (may_pin(q) && c.quantities[q] != before_->quantities[q]) pins_[q] = c.quantities[q];
        auto& world = steps_.back().world;
        world.clear();
        for (const QuantityId q : pins_.ids())
            if (pins_[q]) world.emplace_back(q, *pins_[q]);
    }
    void begin(const Choices& c) {
        end_step();
        Phase p;
        p.positions = hands(c);
        p.nobody_cranks = model_.engine && (!model_.engine->cranks_with || model_.engine->push_start);
        if (!steps_.empty()) p.world = steps_.back().world;
        steps_.push_back(std::move(p));
        scans_ = 0;
    }
    void end_step() {
        if (steps_.empty()) return;
        const Rational lasted = scans_ * model_.scan;
        steps_.back().limit = style_.patient ? std::max(lasted, settling_) : lasted;
    }

    const Model& model_;
    const Recoverable& goal_;
    const PlaybookStyle& style_;
    Rational settling_;
    Indexed<Quantity, std::optional<Rational>> pins_;
    std::vector<Phase> steps_;
    std::optional<Choices> before_;
    long scans_ = 0;
    bool was_cranking_ = false;
};

}  // namespace

Rational settling_time(const Model& m, ClaimId claim) {
    const Cone cone = cone_of(m, m.claims[claim].condition, claim);
    const std::vector<long> times = sim::clock_times(m, &cone.elements);
    const long longest = times.empty() ? 0 : times.back();
    return Rational(ceil_of(Rational(2 * longest * m.scan))) + 1;
}

std::vector<Phase> steps_of(const Model& m, ClaimId claim, const Run& run, long scans, const PlaybookStyle& style) {
    Steps steps(m, claim, style);
    long n = 0;
    each_scan(run, [&](const Choices& c) {
        if (n + 1 == scans) steps.first(c);
        if (n >= scans) steps.take(c);
        ++n;
        return true;
    });
    return steps.finish();
}

namespace {

// In the words of a procedure's steps, with what the world does.
void name_steps(const Model& m, const Recoverable& goal, std::vector<Phase>& steps) {
    for (std::size_t n = 0; n < steps.size(); ++n) {
        std::string text;
        for (const SwitchId i : m.switches.ids()) {
            if (!goal.may_move[i] || (n > 0 && steps[n].positions[i] == steps[n - 1].positions[i])) continue;
            text += (steps[n].positions[i] ? "set " : "clear ") + m.name_of(m.switches[i].position) + ", ";
        }
        text += "wait " + print_time(steps[n].limit);
        if (steps[n].nobody_cranks) text += ", with nobody cranking the engine by hand";
        for (const auto& [q, value] : steps[n].world) {
            const SignalId id = m.quantities[q].signal;
            text += ", with " + m.name_of(id) + " at " + sim::value_text(m, id, value);
        }
        steps[n].text = text;
    }
}

}  // namespace

std::string text_of(const std::vector<Phase>& book) {
    std::string text;
    for (const auto& step : book) {
        for (const bool on : step.positions) text += on ? '1' : '0';
        text += ' ' + step.limit.get_str() + (step.nobody_cranks ? " quiet" : "");
        for (const auto& [q, v] : step.world) text += ' ' + std::to_string(q.index()) + '=' + v.get_str();
        text += '\n';
    }
    return text;
}

std::shared_ptr<const Model> with_playbook(const Model& m, ClaimId claim, std::vector<Phase> steps) {
    const Claim& of = m.claims[claim];
    const Recoverable& goal = goal_of(m, claim);
    Rational takes = 0;
    for (const auto& s : steps) takes += s.limit;
    if (goal.within && (takes > *goal.within || *goal.within < m.scan)) return nullptr;
    name_steps(m, goal, steps);
    Procedure p;
    p.rest = steps.back().positions;
    p.phases = std::move(steps);
    p.goal = goal.body;
    // A procedure's first scan is at time 0; what follows a state comes a scan behind it.
    if (goal.within) p.within = Rational(*goal.within - m.scan);
    p.from = truth_expr(true);
    p.any_time = true;
    for (const bool may : goal.may_move) p.untouched.push_back(!may);
    auto out = std::make_shared<Model>(m);
    out->made_into += "\nplaybook of claim " + std::to_string(claim.index()) + '\n' + text_of(p.phases);
    Claim c = of;
    c.id = of.id + ": playbook";
    c.body = std::move(p);
    out->claims.push_back(std::move(c));
    return out;
}

}  // namespace lanyard::prove
