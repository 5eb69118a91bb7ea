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

class Planner {
 public:
    Planner(const Points& points, const Player& player, const DriverOptions& options)
        : points_(points), search_(points, player), player_(player), options_(options) {
        for (const Goal& g : plain_goals(points)) wanted_.push_back({g});
        plan_.decisions.resize(points.decisions.size());
        status_.resize(points.decisions.size());
    }

    Plan run() {
        here_ = player_.power_up(at_rest(player_.model(), points_.bench.inputs));
        if (!here_.legal) return std::move(plan_);
        explore();
        for (int round = 0; round < 40 && choose_tests(); ++round) {
            reach_all();
            if (interrupted()) break;
            settle_failures();
        }
        finish();
        return std::move(plan_);
    }

 private:
    enum class Status { open, hidden, excluded };

    bool interrupted() {
        plan_.interrupted = plan_.interrupted || (options_.interrupted && options_.interrupted());
        return plan_.interrupted;
    }

    // What a few settings from rest bring about.
    void explore() {
        search_.note(here_);
        for (const Want& first : search_.all_wants(here_)) {
            const Rest a = player_.play(here_, search_.applied(here_.set, first));
            search_.note(a);
        }
    }

    bool is_excluded(int decision, Combination v) const {
        return std::any_of(plan_.excluded.begin(), plan_.excluded.end(), [&](const Combined& c) {
            return c.decision == decision && (v & c.matters) == (c.combination & c.matters);
        });
    }

    // False: nothing new is wanted.
    bool choose_tests() {
        bool more = first_;
        first_ = false;
        for (std::size_t d = 0; d < points_.decisions.size(); ++d) more = choose_tests_of(static_cast<int>(d)) || more;
        return more;
    }

    bool choose_tests_of(int decision) {
        const auto d = static_cast<std::size_t>(decision);
        const Decision& of = points_.decisions[d];
        DecisionPlan& plan = plan_.decisions[d];
        plan.too_large = of.conditions.size() > most_conditions;
        if (plan.too_large) return false;
        const TruthTable table(of.formula, of.conditions);
        const auto any = [](Combination) { return true; };
        const auto liked = [&](Combination v) { return done(decision, v) || search_.seen()[d].contains(v); };
        if (plan.least == 0) plan.least = smallest_tests(table, any, liked).tests.size();
        const auto possible = [&](Combination v) { return !is_excluded(decision, v); };
        const auto seen = [&](Combination v) { return possible(v) && status(decision, v) != Status::hidden; };
        TestSet set = smallest_tests(table, seen, liked);
        if (!set.not_shown.empty()) set = smallest_tests(table, possible, liked);
        plan.tests = set.tests;
        plan.not_shown = set.not_shown;
        plan.known_least = set.least;
        bool more = false;
        for (const Combination v : set.tests) more = want(decision, v) || more;
        return more;
    }

    Status status(int decision, Combination v) const {
        const auto& known = status_[static_cast<std::size_t>(decision)];
        const auto it = known.find(v);
        return it == known.end() ? Status::open : it->second;
    }

    const Wanted* find_wanted(int decision, Combination v) const {
        for (const auto& w : wanted_)
            if (w.goal.kind == GoalKind::combination && w.goal.item == decision && w.goal.combination == v) return &w;
        return nullptr;
    }
    bool done(int decision, Combination v) const {
        const Wanted* w = find_wanted(decision, v);
        return w && w->done;
    }

    bool want(int decision, Combination v) {
        if (find_wanted(decision, v)) return false;
        Goal g;
        g.item = decision;
        g.combination = v;
        g.point = points_.decisions[static_cast<std::size_t>(decision)].outcome;
        wanted_.push_back({g});
        return true;
    }

    void reach_all() {
        while (Wanted* next = nearest()) {
            if (interrupted()) return;
            if (const auto way = search_.find(next->goal, here_, true)) {
                const auto number = static_cast<std::size_t>(next - wanted_.data());
                const std::size_t first = plan_.steps.size();
                take(*way);
                Wanted& w = wanted_[number];
                if (!w.done) w.how = {w.goal, first + way->brings, plan_.steps.size() - 1, true};
                w.done = true;
            } else {
                next->given_up = ++next->failures > 1;
            }
            if (next->failures > 0 && !next->done && !next->given_up) postponed_.insert(next - wanted_.data());
        }
        postponed_.clear();
    }

    // Those that failed once are tried again from somewhere else.
    Wanted* nearest() {
        Wanted* best = nullptr;
        long least = 0;
        for (int round = 0; round < 2 && !best; ++round) {
            for (std::size_t k = 0; k < wanted_.size(); ++k) {
                Wanted& w = wanted_[k];
                if (w.done || w.given_up || (round == 0 && postponed_.contains(static_cast<std::ptrdiff_t>(k))))
                    continue;
                const long cost = search_.cost(w.goal, here_);
                if (best && cost >= least) continue;
                best = &w;
                least = cost;
            }
        }
        return best;
    }

    void take(const Way& way) {
        for (const Settings& set : way.steps) {
            const Rest after = player_.play(here_, set);
            search_.note(after);
            for (auto& w : wanted_) {
                if (w.done || !brings(points_, w.goal, here_, after)) continue;
                w.done = !search_.shown_at(w.goal, here_, after).empty();
                if (w.done) w.how = {w.goal, plan_.steps.size(), plan_.steps.size(), true};
            }
            here_ = after;
            plan_.steps.push_back(set);
        }
    }

    // What was not found: shown nowhere, impossible, or only in passing.
    void settle_failures() {
        std::vector<Combined> questions;
        for (std::size_t k = 0; k < wanted_.size(); ++k) {
            if (wanted_[k].done || !wanted_[k].given_up || settled_.contains(k)) continue;
            const Goal goal = wanted_[k].goal;
            settled_.insert(k);
            const bool is_seen = goal.kind == GoalKind::combination &&
                                 search_.seen()[static_cast<std::size_t>(goal.item)].contains(goal.combination);
            const auto way = search_.find(goal, here_, false);
            if (way) {
                hidden_.push_back(goal);
                if (goal.kind == GoalKind::combination)
                    status_[static_cast<std::size_t>(goal.item)][goal.combination] = Status::hidden;
            } else if (goal.kind != GoalKind::combination) {
                plan_.not_found.push_back(goal);
            } else if (is_seen) {
                status_[static_cast<std::size_t>(goal.item)][goal.combination] = Status::hidden;
                hidden_.push_back(goal);
            } else {
                Combined q;
                q.decision = goal.item;
                q.combination = goal.combination;
                questions.push_back(q);
            }
        }
        if (questions.empty()) return;
        // Each answer may cost as much as a claim; what is not asked is undecided.
        std::vector<Combined> late;
        while (questions.size() + plan_.excluded.size() > most_questions && !questions.empty()) {
            late.push_back(questions.back());
            late.back().matters = ~0U;
            late.back().why = "too many combinations to be asked about";
            questions.pop_back();
        }
        if (!questions.empty()) ask_provers(points_, questions, options_);
        plan_.excluded.insert(plan_.excluded.end(), late.begin(), late.end());
        plan_.excluded.insert(plan_.excluded.end(), questions.begin(), questions.end());
    }

    bool is_needed(const Goal& g) const {
        if (g.kind != GoalKind::combination) return true;
        const auto& tests = plan_.decisions[static_cast<std::size_t>(g.item)].tests;
        return std::find(tests.begin(), tests.end(), g.combination) != tests.end();
    }

    // Combinations that show nowhere are set all the same where nothing better is left: whoever can look into the
    // controller sees them.
    void finish() {
        for (const Goal& g : hidden_) {
            if (interrupted()) return;
            if (!is_needed(g)) continue;
            const auto way = g.kind == GoalKind::combination ? search_.find(g, here_, false) : std::nullopt;
            if (!way) {
                plan_.hidden.push_back(g);
                continue;
            }
            take(*way);
            plan_.reached.push_back({g, plan_.steps.size() - 1, plan_.steps.size() - 1, false});
        }
        for (const auto& w : wanted_)
            if (w.done && is_needed(w.goal)) plan_.reached.push_back(w.how);
        const Settings rest = at_rest(player_.model(), points_.bench.inputs);
        if (!(here_.set == rest)) plan_.steps.push_back(rest);
    }

    const Points& points_;
    Search search_;
    const Player& player_;
    const DriverOptions& options_;
    Plan plan_;
    Rest here_;
    std::vector<Wanted> wanted_;
    std::set<std::ptrdiff_t> postponed_;
    std::set<std::size_t> settled_;
    std::vector<std::map<Combination, Status>> status_;
    std::vector<Goal> hidden_;
    bool first_ = true;
};

}  // namespace

Plan make_plan(const Points& points, const Player& player, const DriverOptions& options) {
    return Planner(points, player, options).run();
}

}  // namespace lanyard::card
