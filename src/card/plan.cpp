#include "card/plan.hpp"

#include <algorithm>

namespace lanyard::card {

namespace {

constexpr std::size_t most_questions = 60;

struct Wanted {
    Goal goal;
    Reached how = {};
    bool done = false;
    bool given_up = false;
    int failures = 0;
};
using WantedId = Id<Wanted>;

class Planner {
 public:
    Planner(const Points& points, const Player& player, const Limits& limits)
        : points_(points), search_(points, player, limits.scans()), player_(player), limits_(limits) {
        for (const Goal& g : plain_goals(points)) wanted_.push_back({g});
        plan_.decisions.resize(points.decisions.size());
        dark_.resize(points.decisions.size());
    }

    Plan run() {
        here_ = player_.power_up(at_rest(player_.model(), points_.bench.inputs));
        if (!here_.legal) return std::move(plan_);
        rests_.push_back(here_);
        plan_.never_rests = !explore() && !player_.is_stopped();
        if (plan_.never_rests) return std::move(plan_);
        for (int round = 0; round < 40 && choose_tests(); ++round) {
            reach_all();
            settle_failures();
            if (is_cut()) break;
        }
        if (is_cut()) keep_what_was_found();
        finish();
        plan_.cut_by = cut_by();
        return std::move(plan_);
    }

 private:
    bool is_cut() const { return search_.is_spent() || player_.is_stopped(); }
    std::string cut_by() const {
        return player_.is_stopped() ? limits_.outside() : search_.is_spent() ? "the work limit was reached" : "";
    }

    // What a single setting brings about. False: nothing comes to rest.
    bool explore() {
        search_.note(here_);
        bool rests = here_.rests;
        for (const Want& first : search_.all_wants(here_)) {
            const Rest a = player_.play(here_, search_.applied(here_.set, first));
            search_.note(a);
            rests = rests || (a.legal && a.rests);
        }
        return rests;
    }

    bool is_excluded(DecisionId decision, Combination v) const {
        return std::any_of(plan_.excluded.begin(), plan_.excluded.end(), [&](const Combined& c) {
            return c.decision == decision && (v & c.matters) == (c.combination & c.matters);
        });
    }

    // False: nothing new is wanted.
    bool choose_tests() {
        bool more = first_;
        first_ = false;
        for (const DecisionId d : points_.decisions.ids()) more = choose_tests_of(d) || more;
        return more;
    }

    bool choose_tests_of(DecisionId d) {
        const Decision& of = points_.decisions[d];
        DecisionPlan& plan = plan_.decisions[d];
        plan.too_large = of.conditions.size() > most_conditions;
        if (plan.too_large) return false;
        const TruthTable table(of.formula, of.conditions);
        const auto any = [](Combination) { return true; };
        const auto liked = [&](Combination v) { return done(d, v) || search_.seen()[d].contains(v); };
        if (plan.least == 0) plan.least = smallest_tests(table, any, liked).tests.size();
        const auto possible = [&](Combination v) { return !is_excluded(d, v); };
        const auto seen = [&](Combination v) { return possible(v) && !dark_[d].contains(v); };
        TestSet set = smallest_tests(table, seen, liked);
        if (!set.not_shown.empty()) set = smallest_tests(table, possible, liked);
        plan.tests = set.tests;
        plan.not_shown = set.not_shown;
        plan.known_least = set.least;
        bool more = false;
        for (const Combination v : set.tests) more = want(d, v) || more;
        return more;
    }

    const Wanted* find_wanted(DecisionId decision, Combination v) const {
        for (const auto& w : wanted_)
            if (w.goal.kind == GoalKind::combination && w.goal.item == decision && w.goal.combination == v) return &w;
        return nullptr;
    }
    bool done(DecisionId decision, Combination v) const {
        const Wanted* w = find_wanted(decision, v);
        return w && w->done;
    }

    bool want(DecisionId decision, Combination v) {
        if (find_wanted(decision, v)) return false;
        wanted_.push_back({{GoalKind::combination, decision, v, {}, false, points_.decisions[decision].outcome}});
        return true;
    }

    void reach_all() {
        while (const WantedId next = nearest()) {
            if (is_cut()) return;
            Wanted& w = wanted_[next];
            if (const auto way = search_.find(w.goal, here_, true)) {
                const std::size_t first = plan_.steps.size();
                if (!take(*way)) return;
                if (!w.done) w.how = {w.goal, first + way->brings, plan_.steps.size() - 1, true};
                w.done = true;
            } else {
                w.given_up = ++w.failures > 1;
            }
            if (w.failures > 0 && !w.done && !w.given_up) postponed_.insert(next);
        }
        postponed_.clear();
    }

    // Those that failed once are tried again from somewhere else.
    WantedId nearest() const {
        WantedId best;
        long least = 0;
        for (int round = 0; round < 2 && !best; ++round) {
            for (const WantedId k : wanted_.ids()) {
                const Wanted& w = wanted_[k];
                if (w.done || w.given_up || (round == 0 && postponed_.contains(k))) continue;
                const long cost = search_.cost(w.goal, here_);
                if (best && cost >= least) continue;
                best = k;
                least = cost;
            }
        }
        return best;
    }

    // False: it was stopped on the way.
    bool take(const Way& way) {
        for (const Settings& set : way.steps) {
            const Rest after = player_.play(here_, set);
            if (player_.is_stopped()) return false;
            search_.note(after);
            for (auto& w : wanted_) {
                if (w.done || !brings(points_, w.goal, here_, after)) continue;
                w.done = !search_.shown_at(w.goal, here_, after).empty();
                if (w.done) w.how = {w.goal, plan_.steps.size(), plan_.steps.size(), true};
            }
            here_ = after;
            plan_.steps.push_back(set);
            rests_.push_back(after);
        }
        return true;
    }

    // What was not found: shown nowhere, impossible, or only in passing. After the end of all limits: all that is open.
    void settle_failures() {
        std::vector<Combined> questions;
        for (const WantedId k : wanted_.ids()) {
            if (wanted_[k].done || !(wanted_[k].given_up || is_cut()) || settled_.contains(k)) continue;
            settled_.insert(k);
            if (show_in_passing(wanted_[k])) continue;
            if (auto open = settle(wanted_[k].goal)) questions.push_back(*open);
        }
        ask(std::move(questions));
    }

    // A combination that is there only while something runs shows by how long that takes.
    bool show_in_passing(Wanted& w) {
        if (w.goal.kind != GoalKind::combination) return false;
        Goal goal = w.goal;
        if (search_.seen()[goal.item].contains(goal.combination)) return false;
        goal.passing = true;
        for (std::size_t s = 0; s < plan_.steps.size() && !w.done; ++s) {
            w.done = brings(points_, goal, rests_[s], rests_[s + 1]) &&
                     !search_.shown_at(goal, rests_[s], rests_[s + 1]).empty();
            if (w.done) w.how = {goal, s, s, true};
        }
        if (w.done) return true;
        const auto way = search_.find(goal, here_, true);
        if (!way || way->brings + 1 != way->steps.size() || !take(*way)) return false;
        w.how = {goal, plan_.steps.size() - 1, plan_.steps.size() - 1, true};
        w.done = true;
        return true;
    }

    // A combination that the provers are to be asked about.
    std::optional<Combined> settle(const Goal& goal) {
        const bool is_combination = goal.kind == GoalKind::combination;
        const bool is_seen = is_combination && search_.seen()[goal.item].contains(goal.combination);
        if (is_seen && is_cut()) {
            plan_.not_found.push_back({goal, cut_by()});
            return std::nullopt;
        }
        if (is_seen || search_.find(goal, here_, false)) {
            hidden_.push_back(goal);
            if (is_combination) dark_[goal.item].insert(goal.combination);
            return std::nullopt;
        }
        if (!is_combination) {
            plan_.not_found.push_back({goal, cut_by()});
            return std::nullopt;
        }
        return Combined{goal.item, goal.combination, ~0U, Possibility::undecided, ""};
    }

    // Each answer may cost as much as a claim; what is not asked is undecided.
    void ask(std::vector<Combined> questions) {
        std::vector<Combined> late;
        while (questions.size() + plan_.excluded.size() > most_questions && !questions.empty()) {
            late.push_back(questions.back());
            late.back().why = "too many combinations to ask about";
            questions.pop_back();
        }
        if (!questions.empty() && !player_.is_stopped())
            ask_provers(points_, questions, limits_.provers_up_to(part_of_search));
        if (player_.is_stopped())
            for (auto& q : questions)
                if (q.is == Possibility::undecided) q.why = limits_.outside();
        plan_.excluded.insert(plan_.excluded.end(), late.begin(), late.end());
        plan_.excluded.insert(plan_.excluded.end(), questions.begin(), questions.end());
    }

    // The best that can be made of combinations that were set; which conditions then are not shown to act alone.
    void keep_what_was_found() {
        for (const DecisionId d : points_.decisions.ids()) {
            if (plan_.decisions[d].too_large) continue;
            const TruthTable table(points_.decisions[d].formula, points_.decisions[d].conditions);
            const auto found = [&](Combination v) { return done(d, v); };
            const TestSet set = smallest_tests(table, found, found);
            plan_.decisions[d].tests = set.tests;
            plan_.decisions[d].not_shown = set.not_shown;
        }
    }

    bool is_needed(const Goal& g) const {
        if (g.kind != GoalKind::combination) return true;
        const auto& tests = plan_.decisions[g.item].tests;
        return std::find(tests.begin(), tests.end(), g.combination) != tests.end();
    }

    // Combinations that show nowhere are set all the same where nothing better is left: whoever can look into the
    // controller sees them.
    void finish() {
        for (const Goal& g : hidden_) {
            const bool helps = is_needed(g) && g.kind == GoalKind::combination;
            const auto way = helps ? search_.find(g, here_, false) : std::nullopt;
            if (way && take(*way))
                plan_.reached.push_back({g, plan_.steps.size() - 1, plan_.steps.size() - 1, false});
            else if (is_needed(g) || is_cut())
                plan_.hidden.push_back({g, cut_by()});
        }
        for (const auto& w : wanted_)
            if (w.done && is_needed(w.goal)) plan_.reached.push_back(w.how);
        end_in_safe_state();
    }

    // Behind the last step that shows something. What outlives a loss of power is reset first.
    void end_in_safe_state() {
        std::size_t used = 0;
        for (const Reached& r : plan_.reached) used = std::max(used, r.shown + 1);
        plan_.steps.resize(used);
        here_ = rests_[used];
        for (const Goal& g : plain_goals(points_)) {
            if (g.kind != GoalKind::resets || !points_.memories[g.item].retained) continue;
            const Memory& m = points_.memories[g.item];
            if (!here_.is_on(m.value) && !waits_for_power(m, here_)) continue;
            if (const auto way = search_.find(g, here_, false)) take(*way);
        }
        const Settings rest = at_rest(player_.model(), points_.bench.inputs);
        if (!plan_.steps.empty() && !(plan_.steps.back() == rest)) plan_.steps.push_back(rest);
    }

    const Points& points_;
    Search search_;
    const Player& player_;
    const Limits& limits_;
    Plan plan_;
    Rest here_;
    std::vector<Rest> rests_;  // before the first step, and after each
    Indexed<Wanted> wanted_;
    std::set<WantedId> postponed_;
    std::set<WantedId> settled_;
    Indexed<Decision, std::set<Combination>> dark_;  // can be brought about, but show nowhere
    std::vector<Goal> hidden_;
    bool first_ = true;
};

}  // namespace

Plan make_plan(const Points& points, const Player& player, const Limits& limits) {
    return Planner(points, player, limits).run();
}

}  // namespace lanyard::card
