// How far it is to where a goal is brought about: see need.hpp.
#include "card/brings.hpp"
#include "card/need.hpp"

namespace lanyard::card {

namespace {

class GoalNeed {
 public:
    GoalNeed(const Points& points, const Distance& distance, const Goal& goal, const Rest& here)
        : points_(points), distance_(distance), goal_(goal), here_(here) {}

    Need need() {
        need_ = distance_.to_power(here_);
        if (need_.cost > 0) {
            if (is_over_loss() && waits_for_power(points_.memories[goal_.item], here_)) need_.cost = 1;
            return need_;
        }
        if (goal_.kind == GoalKind::combination) {
            combination();
            return need_;
        }
        need_.add(distance_.to_show(here_, goal_.point));
        if (is_of_comparison(goal_.kind))
            level();
        else if (goal_.kind == GoalKind::delay)
            delay();
        else
            latch();
        return need_;
    }

 private:
    bool is_over_loss() const { return goal_.kind == GoalKind::keeps || goal_.kind == GoalKind::forgets; }
    void to(SignalId id, bool value) { need_.add(distance_.to(here_, id, value)); }
    void input(const Expr& e, bool value) {
        if (e.op == Op::signal) to(e.signal, value);
    }

    void combination() {
        const Decision& d = points_.decisions[goal_.item];
        for (std::size_t c = 0; c < d.conditions.size(); ++c) to(d.conditions[c], (goal_.combination >> c & 1U) != 0);
        need_.add(distance_.to_show(here_, d.outcome));
    }

    void level() {
        const Comparison& c = points_.comparisons[goal_.item];
        const QuantityId q = points_.bench.inputs[c.input].index;
        const bool as_expected = here_.is_on(c.value) == goal_.expected;
        if (goal_.kind == GoalKind::comes_back && as_expected) {
            to(c.value, !goal_.expected);
            need_.cost += 1;
            return;
        }
        if (c.has_band && !as_expected && goal_.kind == GoalKind::level && goal_.at != (goal_.expected ? c.on : c.off))
            to(c.value, goal_.expected);
        if (here_.set.quantities[q] != goal_.at) need_.add({1, {{c.input, false, goal_.at}}});
    }

    void delay() {
        const Memory& m = points_.memories[goal_.item];
        const Expr& first = *m.is->args[0];
        const bool late = goes_late_to(m), start = m.is->op != Op::tof;
        if (here_.is_on(m.value) == (m.is->op == Op::tp ? true : late)) to(m.value, !here_.is_on(m.value));
        if (need_.cost > 0) need_.cost += 1;
        const bool again = value_at(here_, first) == start;
        input(first, start != again);
        if (again) need_.cost += 1;
    }

    // On, then left alone; and then reset, or the power away and back.
    void latch() {
        const Memory& m = points_.memories[goal_.item];
        if (!here_.is_on(m.value)) {
            to(m.value, true);
            need_.cost += 1;
            return;
        }
        input(*m.is->args[0], false);
        input(*m.is->args[1], goal_.kind == GoalKind::resets);
        if (!is_over_loss()) return;
        if (need_.cost == 0) need_.add(distance_.to_lose_power(here_));
        if (goal_.kind == GoalKind::forgets) need_.cost += 2;  // it has to be set anew then, for what is shown next
    }

    const Points& points_;
    const Distance& distance_;
    const Goal& goal_;
    const Rest& here_;
    Need need_;
};

}  // namespace

Need need_of(const Points& points, const Distance& distance, const Goal& goal, const Rest& here) {
    return GoalNeed(points, distance, goal, here).need();
}

}  // namespace lanyard::card
