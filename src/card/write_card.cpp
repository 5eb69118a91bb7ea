#include "card/write_card.hpp"

#include "card/cautions.hpp"
#include "card/readings.hpp"
#include "card/wording.hpp"

namespace lanyard::card {

namespace {

int number(std::size_t step) { return static_cast<int>(step) + 1; }

CardGap gap(const Points& points, GapKind kind, const Goal& goal, const std::string& why) {
    return {kind, goal_name(points, goal), goal_words(points, goal, false), why};
}

CardGap gap_of(const Points& points, const Combined& q) {
    const Decision& d = points.decisions[q.decision];
    CardGap out;
    out.of = decision_name(points, d);
    out.what = conditions_words(points, d, q.combination, q.matters);
    out.kind = q.is == Possibility::impossible   ? GapKind::impossible
               : q.is == Possibility::in_passing ? GapKind::in_passing
                                                 : GapKind::undecided;
    if (q.is == Possibility::impossible)
        out.why = "proved: never together in any run on the bench; the certificate was checked";
    else if (q.is == Possibility::in_passing)
        out.why = "happens only in passing: no setting was found that holds it, or that shows it by stopwatch";
    else
        out.why = "neither found nor proved impossible" + (q.why.empty() ? "" : ": " + q.why);
    return out;
}

CardGap gap_of(const Points& points, const Lost& lost) {
    const GapKind kind = lost.reached.goal.passing ? GapKind::in_passing : GapKind::not_found;
    return gap(points, kind, lost.reached.goal, lost.why);
}

CardGap too_large(const Points& points, const Decision& d) {
    return {GapKind::too_large, decision_name(points, d), d.text,
            std::to_string(d.conditions.size()) + " conditions, " + std::to_string(most_conditions) + " is the limit"};
}

std::string or_else(const std::string& why, const char* otherwise) { return why.empty() ? otherwise : why; }

// What the card does not show, and why.
std::vector<CardGap> gaps_of(const Model& user, const Points& points, const Plan& plan, const Played& played) {
    std::vector<CardGap> out;
    for (const auto& q : plan.excluded) out.push_back(gap_of(points, q));
    for (const Lost& l : played.lost) out.push_back(gap_of(points, l));
    for (const NotFound& n : plan.hidden)
        out.push_back(gap(points, GapKind::hidden, n.goal,
                          or_else(n.why, "no setting was found at which it shows at a terminal")));
    for (const Goal& g : levels_outside(points))
        out.push_back(gap(points, GapKind::not_found, g, "the sensor cannot show that"));
    for (const Comparison& c : points.comparisons)
        if (!c.input)
            out.push_back({GapKind::not_found, user.name_of(c.owner), c.text,
                           "not a threshold of one sensor alone: tested only as a condition"});
    for (const NotFound& n : plan.not_found)
        out.push_back(gap(points, GapKind::not_found, n.goal, or_else(n.why, "no setting was found")));
    for (const auto& r : played.confirmed)
        if (!r.shows)
            out.push_back(
                gap(points, GapKind::hidden, r.goal,
                    "step " + std::to_string(r.step + 1) + " sets it; look inside the controller, if you can"));
    for (const DecisionId d : plan.decisions.ids())
        if (plan.decisions[d].too_large) out.push_back(too_large(points, points.decisions[d]));
    return out;
}

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
        if (out_.steps.empty()) out_.why_empty = why_empty();
        return std::move(out_);
    }

 private:
    std::string why_empty() const {
        if (!plan_.cut_by.empty()) return plan_.cut_by + " before a setting was found that shows anything";
        // Nothing was played, so whatever was found is lost to the one limit.
        if (!played_.lost.empty()) return played_.lost.front().why + " before the first step was played";
        return "no setting was found that shows anything";
    }

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
        if (is_of_comparison(g.kind)) ++out_.thresholds;
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
