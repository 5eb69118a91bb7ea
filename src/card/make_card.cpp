#include "card/make_card.hpp"

#include <algorithm>

#include "card/played.hpp"
#include "card/wording.hpp"
#include "lang/print.hpp"
#include "sim/words.hpp"

namespace lanyard {

namespace card {

namespace {

// What changes later than this is worth a stopwatch.
const Rational worth_a_watch(1, 5);

class Writer {
 public:
    Writer(const Model& user, const Points& points, const Plan& plan, const Played& played)
        : user_(user), m_(points.bench.model), points_(points), plan_(plan), played_(played) {}

    Card write() {
        write_rest();
        for (std::size_t s = 0; s < plan_.steps.size(); ++s) write_step(s);
        for (std::size_t d = 0; d < points_.decisions.size(); ++d) write_decision(d);
        write_gaps();
        if (!played_.rests.front().rests)
            out_.gaps.push_back(
                {GapKind::not_found, user_.name, "rest", "in the safe state something goes on changing for ever"});
        out_.readings = static_cast<std::size_t>(reading_);
        out_.interrupted = plan_.interrupted;
        return std::move(out_);
    }

 private:
    static int number(std::size_t step) { return static_cast<int>(step) + 1; }
    std::string look_name(SignalId id) const { return user_.name_of(id); }

    void write_rest() {
        const Rest& rest = played_.rests.front();
        out_.rest = settings_words(points_, nullptr, rest.set);
        for (const SignalId id : points_.looks)
            if (is_live(rest.signals[static_cast<std::size_t>(id)])) out_.on_at_rest.push_back(look_name(id));
        out_.stop = find_stop();
    }

    static bool is_live(const Value& v) {
        if (const auto* b = std::get_if<bool>(&v)) return *b;
        const auto* x = std::get_if<Rational>(&v);
        return x && sgn(*x) > 0;
    }
    std::size_t live(const Rest& rest) const {
        return static_cast<std::size_t>(std::count_if(points_.looks.begin(), points_.looks.end(), [&](SignalId id) {
            return is_live(rest.signals[static_cast<std::size_t>(id)]);
        }));
    }

    // One switch that takes the power from everything, tried where most has it.
    std::string find_stop() const {
        const Player player(points_.flipped, {});
        const auto worst = std::max_element(played_.rests.begin(), played_.rests.end(),
                                            [&](const Rest& a, const Rest& b) { return live(a) < live(b); });
        for (const auto& in : points_.bench.inputs) {
            if (in.kind != InputKind::hand_switch) continue;
            Settings set = worst->set;
            set.positions[static_cast<std::size_t>(in.index)].flip();
            const Rest rest = player.play(*worst, set);
            if (!rest.legal || !rest.rests || live(rest) > 0 || live(*worst) == 0) continue;
            const CardSetting words = setting_words(points_, in, set);
            return words.what + " " + words.to;
        }
        return "";
    }

    void write_step(std::size_t s) {
        const Rest &before = played_.rests[s], &after = played_.rests[s + 1];
        CardStep step;
        step.number = number(s);
        step.set = settings_words(points_, &before.set, after.set);
        step.cautions = cautions(before, after);
        step.wait = wait_words(after);
        std::vector<SignalId> looks;
        std::vector<std::vector<SignalId>> tests;
        for (std::size_t g = 0; g < played_.confirmed.size(); ++g) write_goal(g, s, step, looks, tests);
        for (const SignalId id : points_.looks) {
            const auto k = static_cast<std::size_t>(id);
            const auto at = std::find(looks.begin(), looks.end(), id);
            const bool changes = std::any_of(after.changes.begin(), after.changes.end(),
                                             [&](const Change& c) { return c.signal == id; });
            if (at == looks.end() && !changes) continue;
            const auto tested =
                at == looks.end() ? std::vector<SignalId>() : tests[static_cast<std::size_t>(at - looks.begin())];
            add_readings(step, id, after.signals[k], after, tested, either(s, id));
        }
        out_.steps.push_back(std::move(step));
    }

    void write_goal(std::size_t g, std::size_t s, CardStep& step, std::vector<SignalId>& looks,
                    std::vector<std::vector<SignalId>>& tests) {
        const Reached& r = played_.confirmed[g];
        const std::string words = goal_words(points_, r.goal);
        if (r.step == s) {
            count(r.goal);
            step.shows.push_back(!r.shows       ? words + " (at no terminal)"
                                 : r.shown == s ? words
                                                : words + " (shows in step " + std::to_string(number(r.shown)) + ")");
        }
        if (!r.shows || r.shown != s) return;
        if (r.step != s) step.shows.push_back("from step " + std::to_string(number(r.step)) + ": " + words);
        const SignalId id = look_for(played_.shown[g], looks, played_.rests[s + 1]);
        auto at = std::find(looks.begin(), looks.end(), id);
        if (at == looks.end()) {
            looks.push_back(id);
            tests.emplace_back();
            at = looks.end() - 1;
        }
        auto& list = tests[static_cast<std::size_t>(at - looks.begin())];
        const SignalId owner = owner_of(points_, r.goal);
        if (std::find(list.begin(), list.end(), owner) == list.end()) list.push_back(owner);
    }

    // One place is enough: where somebody looks anyway, else the first.
    static SignalId look_for(const std::vector<SignalId>& shown, const std::vector<SignalId>& looks,
                             const Rest& after) {
        for (const SignalId id : shown)
            if (std::any_of(after.changes.begin(), after.changes.end(),
                            [&](const Change& c) { return c.signal == id; }))
                return id;
        for (const SignalId id : shown)
            if (std::find(looks.begin(), looks.end(), id) != looks.end()) return id;
        return shown.front();
    }

    void count(const Goal& g) {
        if (g.kind == GoalKind::level || g.kind == GoalKind::comes_back) ++out_.thresholds;
        if (g.kind == GoalKind::delay) ++out_.delays;
        if (g.kind == GoalKind::holds || g.kind == GoalKind::resets) ++out_.latches;
    }

    // The box stands exactly on a threshold of a sensor that is not exact, and the look shows which side it is.
    std::string either(std::size_t s, SignalId look) const {
        for (std::size_t g = 0; g < played_.confirmed.size(); ++g) {
            const Reached& r = played_.confirmed[g];
            if (r.shown != s || (r.goal.kind != GoalKind::level && r.goal.kind != GoalKind::comes_back)) continue;
            const auto& shown = played_.shown[g];
            if (std::find(shown.begin(), shown.end(), look) == shown.end()) continue;
            const Comparison& c = points_.comparisons[static_cast<std::size_t>(r.goal.item)];
            const SignalId sensor = points_.bench.inputs[static_cast<std::size_t>(c.input)].of;
            if (user_.signal(sensor).kind != SignalKind::reading) continue;
            const Rational& accuracy = user_.sensors[static_cast<std::size_t>(user_.signal(sensor).index)].accuracy;
            if ((r.goal.at != c.on && r.goal.at != c.off) || sgn(accuracy) == 0) continue;
            return "on the threshold: the other may show within the accuracy of " + user_.name_of(sensor) + ", " +
                   sim::difference_text(user_, sensor, accuracy);
        }
        return "";
    }

    void add_readings(CardStep& step, SignalId id, const Value& value, const Rest& after,
                      const std::vector<SignalId>& tests, const std::string& either) {
        CardReading r;
        r.signal = id;
        r.where = look_name(id);
        r.terminal = terminal_of(user_, id);
        r.tests = tests;
        r.either = !either.empty();
        r.remark = either;
        r.number = ++reading_;
        r.expected = sim::value_text(m_, id, value);
        if (const auto* x = std::get_if<Rational>(&value)) {
            r.expected = print_value(*x, sim::unit_of(m_, id), m_.signal(id).type.difference, 1);
            r.kind = LookKind::number;
            r.low = r.high = *x;
        } else {
            r.is_on = std::get<bool>(value);
        }
        step.readings.push_back(r);
        if (r.kind == LookKind::state) add_stopwatch(step, r, after);
    }

    // The last change, if it comes late. The setting may come just after a sample and the output takes effect up to a
    // scan after the one that decided it (help meaning, section 10), so up to two scans pass more.
    void add_stopwatch(CardStep& step, const CardReading& state, const Rest& after) {
        const Change* last = nullptr;
        for (const Change& c : after.changes)
            if (c.signal == state.signal) last = &c;
        if (!last || last->scan * m_.scan < worth_a_watch) return;
        // One hand, one watch: what changes together with another is seen anyway.
        for (const CardReading& other : step.readings)
            if (other.kind == LookKind::stopwatch && abs(other.low - last->scan * m_.scan) < worth_a_watch) return;
        CardReading r = state;
        r.number = ++reading_;
        r.kind = LookKind::stopwatch;
        r.low = last->scan * m_.scan;
        r.high = r.low + 2 * m_.scan;
        r.expected = std::string(state.is_on ? "goes on" : "goes off") + " after " + rounded_text(r.low, 3) + " .. " +
                     seconds_words(r.high);
        r.remark = r.low < 2 * hand_time ? "too short for a stopwatch: film it or log it" : "";
        r.either = false;
        step.readings.push_back(r);
    }

    std::string wait_words(const Rest& after) const {
        const Change* last = nullptr;
        for (const Change& c : after.changes)
            if (std::find(points_.looks.begin(), points_.looks.end(), c.signal) != points_.looks.end()) last = &c;
        const Rational all = after.scans * m_.scan;
        if (all < worth_a_watch) return "";
        const Rational until = all + 2 * m_.scan;
        if (last && last->scan * m_.scan >= worth_a_watch && last->scan + 10 > after.scans)
            return seconds_words(until) + ", until " + look_name(last->signal) + " changes";
        return seconds_words(until) + ", until the last clock has run out";
    }

    std::vector<std::string> cautions(const Rest& before, const Rest& after) const {
        std::vector<std::string> out;
        const auto goes_live = [&](SignalId id) {
            const auto k = static_cast<std::size_t>(id);
            if (is_live(before.signals[k])) return false;
            return is_live(after.signals[k]) ||
                   std::any_of(after.changes.begin(), after.changes.end(),
                               [&](const Change& c) { return c.signal == id && is_live(c.to); });
        };
        std::string others;
        for (const SignalId id : points_.looks)
            if (goes_live(id)) others += (others.empty() ? "" : ", ") + look_name(id);
        if (user_.engine) add_engine_cautions(goes_live, out);
        if (!others.empty()) out.push_back("what hangs on " + others + " may start, move or get hot");
        return out;
    }

    template <class F>
    void add_engine_cautions(const F& goes_live, std::vector<std::string>& out) const {
        const Engine& e = *user_.engine;
        const auto load = [&](int l) { return user_.loads[static_cast<std::size_t>(l)].signal; };
        if (e.cranks_with >= 0 && goes_live(load(e.cranks_with)))
            out.push_back(user_.name_of(load(e.cranks_with)) + " turns the engine unless it is disconnected");
        std::string fires;
        for (const int l : e.fires_with)
            if (goes_live(load(l))) fires += (fires.empty() ? "" : ", ") + user_.name_of(load(l));
        if (!fires.empty()) out.push_back("fuel and spark: " + fires + " live");
    }

    void write_decision(std::size_t d) {
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
                const Reached* r = confirmed(static_cast<int>(d), v);
                if (!r) continue;
                out.tests.push_back({conditions_words(points_, of, v, ~0U), table(v), number(r->step),
                                     r->shows ? number(r->shown) : 0});
            }
        }
        out_.decisions.push_back(std::move(out));
    }

    const Reached* confirmed(int decision, Combination v) const {
        for (const auto& r : played_.confirmed)
            if (r.goal.kind == GoalKind::combination && r.goal.item == decision && r.goal.combination == v) return &r;
        return nullptr;
    }

    void write_gaps() {
        for (const auto& q : plan_.excluded) out_.gaps.push_back(gap_of(q));
        for (const Reached& r : played_.lost)
            add_gap(GapKind::not_found, r.goal, "a way was found with shortened clocks only");
        for (const Goal& g : plan_.hidden)
            add_gap(GapKind::hidden, g, "no setting was found at which it shows at a terminal");
        for (const Goal& g : levels_outside(points_)) add_gap(GapKind::not_found, g, "the sensor cannot show that");
        for (const Comparison& c : points_.comparisons)
            if (c.input < 0)
                out_.gaps.push_back({GapKind::not_found, user_.name_of(c.owner), c.text,
                                     "no threshold of one sensor alone: tested as a condition only"});
        for (const Goal& g : plan_.not_found) add_gap(GapKind::not_found, g, "no setting was found");
        for (const auto& r : played_.confirmed)
            if (!r.shows)
                add_gap(GapKind::hidden, r.goal,
                        "step " + std::to_string(number(r.step)) +
                            " sets it; look into the controller, if it can be looked into");
        for (std::size_t d = 0; d < plan_.decisions.size(); ++d)
            if (plan_.decisions[d].too_large)
                out_.gaps.push_back({GapKind::too_large, decision_name(points_, points_.decisions[d]),
                                     points_.decisions[d].text,
                                     std::to_string(points_.decisions[d].conditions.size()) + " conditions, " +
                                         std::to_string(most_conditions) + " are the most"});
    }

    void add_gap(GapKind kind, const Goal& goal, const std::string& why) {
        out_.gaps.push_back({kind, goal_name(points_, goal), goal_words(points_, goal, false), why});
    }

    CardGap gap_of(const Combined& q) const {
        const Decision& d = points_.decisions[static_cast<std::size_t>(q.decision)];
        CardGap out;
        out.of = decision_name(points_, d);
        out.what = conditions_words(points_, d, q.combination, q.matters);
        out.kind = q.is == Possibility::impossible   ? GapKind::impossible
                   : q.is == Possibility::in_passing ? GapKind::in_passing
                                                     : GapKind::undecided;
        if (q.is == Possibility::impossible)
            out.why = "proved: never together, in no run on the bench; the certificate was checked";
        else if (q.is == Possibility::in_passing)
            out.why = "happens in passing only: no setting was found that holds it";
        else
            out.why = "neither found nor proved impossible" + (q.why.empty() ? "" : ": " + q.why);
        return out;
    }

    const Model& user_;
    const Model& m_;
    const Points& points_;
    const Plan& plan_;
    const Played& played_;
    Card out_;
    int reading_ = 0;
};

}  // namespace

}  // namespace card

Card make_card(const Model& model, const DriverOptions& options) {
    using namespace card;
    const Points points = points_of(on_the_bench(model));
    const Model ahead = hurried(points.flipped);
    const Player player(ahead, points.watched());
    const Plan plan = make_plan(points, player, options);
    return Writer(model, points, plan, played(model, points, plan)).write();
}

}  // namespace lanyard
