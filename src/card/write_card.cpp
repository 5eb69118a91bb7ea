#include "card/write_card.hpp"

#include "card/cautions.hpp"
#include "card/gaps.hpp"
#include "card/readings.hpp"
#include "card/wording.hpp"

namespace lanyard::card {

namespace {

int number(std::size_t step) { return static_cast<int>(step) + 1; }

class Writer {
 public:
    Writer(const Model& user, const Points& points, const Plan& plan, const Played& played)
        : user_(user), points_(points), plan_(plan), played_(played) {}

    Card write(const Player& player) {
        write_rest();
        out_.stop = stop_words(points_, player, played_.rests);
        for (std::size_t s = 0; s + 1 < played_.rests.size(); ++s) write_step(s);
        for (const Reached& r : played_.confirmed) count(r.goal);
        for (const DecisionId d : points_.decisions.ids()) write_decision(d);
        out_.gaps = gaps_of(user_, points_, plan_, played_);
        if (!played_.rests.front().rests)
            out_.gaps.push_back(
                {GapKind::not_found, user_.name, "rest", "in the safe state something keeps changing for ever"});
        if (out_.steps.empty()) out_.why_empty = "no setting was found that shows anything";
        return std::move(out_);
    }

 private:
    void write_rest() {
        const Rest& rest = played_.rests.front();
        out_.rest = settings_words(points_, nullptr, rest.set);
        for (const SignalId id : points_.looks)
            if (is_live(rest.signals[id])) out_.on_at_rest.push_back(user_.name_of(id));
    }

    void write_step(std::size_t s) {
        const Rest &before = played_.rests[s], &after = played_.rests[s + 1];
        CardStep step;
        step.number = number(s);
        step.set = settings_words(points_, &before.set, after.set);
        step.held = held_words(points_, before.set, after.set);
        step.cautions = cautions(user_, points_, before, after);
        step.wait = wait_words(user_, points_, after);
        for (const Reached& r : played_.confirmed) write_goal(r, s, step);
        step.readings = readings_of(user_, points_, played_, s, static_cast<int>(out_.readings) + 1);
        out_.readings += step.readings.size();
        out_.steps.push_back(std::move(step));
    }

    void write_goal(const Reached& r, std::size_t s, CardStep& step) const {
        const std::string words = goal_words(points_, r.goal);
        if (r.step == s)
            step.shows.push_back(!r.shows       ? words + " (at no terminal)"
                                 : r.shown == s ? words
                                                : words + " (shows in step " + std::to_string(number(r.shown)) + ")");
        else if (r.shows && r.shown == s)
            step.shows.push_back("from step " + std::to_string(number(r.step)) + ": " + words);
    }

    void count(const Goal& g) {
        if (g.kind == GoalKind::level || g.kind == GoalKind::comes_back) ++out_.thresholds;
        if (g.kind == GoalKind::delay) ++out_.delays;
        if (is_of_latch(g.kind)) ++out_.latches;
    }

    void write_decision(DecisionId d) {
        const Decision& of = points_.decisions[d];
        const DecisionPlan& plan = plan_.decisions[d];
        CardDecision out;
        out.owner = of.owner;
        out.name = decision_name(points_, of);
        out.text = of.text;
        out.conditions = of.conditions.size();
        out.least = plan.least;
        out.known_least = plan.known_least;
        for (const std::size_t c : plan.not_shown) out.not_shown.push_back(points_.text_of(of.conditions[c]));
        if (!plan.too_large) {
            const TruthTable table(of.formula, of.conditions);
            for (const Combination v : plan.tests) {
                const Reached* r = confirmed(d, v);
                if (!r) continue;
                out.tests.push_back({conditions_words(points_, of, v, ~0U), table(v), number(r->step),
                                     r->shows ? number(r->shown) : 0, r->goal.passing});
            }
        }
        out_.decisions.push_back(std::move(out));
    }

    const Reached* confirmed(DecisionId decision, Combination v) const {
        for (const auto& r : played_.confirmed)
            if (r.goal.kind == GoalKind::combination && r.goal.item == decision && r.goal.combination == v) return &r;
        return nullptr;
    }

    const Model& user_;
    const Points& points_;
    const Plan& plan_;
    const Played& played_;
    Card out_;
};

}  // namespace

Card write_card(const Model& user, const Points& points, const Plan& plan, const Played& played, const Player& player) {
    return Writer(user, points, plan, played).write(player);
}

Card empty_card(const Model& user, const Points& points, const std::string& why) {
    Card out;
    out.why_empty = why;
    if (points.has_logic()) out.gaps.push_back({GapKind::not_found, user.name, "all of its logic", why});
    return out;
}

}  // namespace lanyard::card
