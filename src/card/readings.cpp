#include "card/readings.hpp"

#include <algorithm>

#include "card/wording.hpp"
#include "lang/print.hpp"
#include "sim/words.hpp"

namespace lanyard::card {

namespace {

// A place to look at, and what is tested there.
struct Look {
    SignalId at;
    std::vector<SignalId> tests;
    bool timed = false;   // it is the time that shows it
    std::string passing;  // what stays so only if something in passing is as it should be
};

bool changes(const Rest& rest, SignalId id) {
    return std::any_of(rest.changes.begin(), rest.changes.end(), [&](const Change& c) { return c.signal == id; });
}

class StepReadings {
 public:
    StepReadings(const Model& user, const Points& points, const Played& played, std::size_t step, int first)
        : user_(user),
          points_(points),
          played_(played),
          step_(step),
          after_(played.rests[step + 1]),
          next_(first),
          m_(points.bench.model) {}

    std::vector<CardReading> all() {
        for (std::size_t g = 0; g < played_.confirmed.size(); ++g)
            if (played_.confirmed[g].shows && played_.confirmed[g].shown == step_) add_test(g);
        for (const SignalId id : points_.looks)
            if (find(id) != looks_.end() || changes(after_, id)) add_readings(id);
        return std::move(out_);
    }

 private:
    std::vector<Look>::iterator find(SignalId id) {
        return std::find_if(looks_.begin(), looks_.end(), [&](const Look& l) { return l.at == id; });
    }

    void add_test(std::size_t g) {
        const Goal& goal = played_.confirmed[g].goal;
        const SignalId id = place(played_.shown[g]);
        auto at = find(id);
        if (at == looks_.end()) at = looks_.insert(looks_.end(), Look{id, {}, false, ""});
        const SignalId owner = owner_of(points_, goal);
        if (std::find(at->tests.begin(), at->tests.end(), owner) == at->tests.end()) at->tests.push_back(owner);
        at->timed = at->timed || goal.kind == GoalKind::delay || goal.passing;
        if (goal.passing && !changes(after_, id)) at->passing = "all the while, from the setting on";
    }

    SignalId place(const std::vector<SignalId>& shown) {
        for (const SignalId id : shown)
            if (changes(after_, id)) return id;
        for (const SignalId id : shown)
            if (find(id) != looks_.end()) return id;
        return shown.front();
    }

    void add_readings(SignalId id) {
        const auto look = find(id);
        const Value& value = after_.signals[id];
        CardReading r;
        r.signal = id;
        r.where = user_.name_of(id);
        r.terminal = terminal_of(user_, id);
        if (look != looks_.end()) r.tests = look->tests;
        r.remark = either(id);
        r.either = !r.remark.empty();
        if (look != looks_.end() && !r.either) r.remark = look->passing;
        r.number = next_++;
        r.expected = sim::value_text(m_, id, value);
        if (const auto* x = std::get_if<Rational>(&value)) {
            r.expected = print_value(*x, sim::unit_of(m_, id), m_.signal(id).type.difference, 1);
            r.kind = LookKind::number;
            r.low = r.high = *x;
        } else {
            r.is_on = std::get<bool>(value);
        }
        out_.push_back(r);
        if (r.kind == LookKind::state) add_stopwatch(r, look != looks_.end() && look->timed);
    }

    // The last change, if it comes late. The setting may come just after a sample and the output takes effect up to a
    // scan after the one that decided it (help meaning, section 10), so up to two scans pass more.
    void add_stopwatch(const CardReading& state, bool is_wanted) {
        const Change* last = nullptr;
        for (const Change& c : after_.changes)
            if (c.signal == state.signal) last = &c;
        if (!last || last->scan * m_.scan < worth_a_watch) return;
        // One hand, one watch: what changes together with another is seen anyway.
        for (const CardReading& other : out_)
            if (!is_wanted && other.kind == LookKind::stopwatch &&
                abs(other.low - last->scan * m_.scan) < worth_a_watch)
                return;
        CardReading r = state;
        r.number = next_++;
        r.kind = LookKind::stopwatch;
        r.low = last->scan * m_.scan;
        r.high = r.low + 2 * m_.scan;
        r.expected = std::string(state.is_on ? "goes on" : "goes off") + " after " + rounded_text(r.low, 3) + " .. " +
                     seconds_words(r.high);
        r.remark = r.low < 2 * hand_time ? "too short for a stopwatch: film it or log it" : "";
        r.either = false;
        out_.push_back(r);
    }

    // The box stands exactly on a threshold of a sensor that is not exact, and the look shows which side it is.
    std::string either(SignalId look) const {
        for (std::size_t g = 0; g < played_.confirmed.size(); ++g) {
            const Reached& r = played_.confirmed[g];
            if (r.shown != step_ || !is_of_comparison(r.goal.kind)) continue;
            const auto& shown = played_.shown[g];
            if (std::find(shown.begin(), shown.end(), look) == shown.end()) continue;
            const Comparison& c = points_.comparisons[r.goal.item];
            const SignalId sensor = points_.bench.inputs[c.input].of;
            if (user_.signal(sensor).kind != SignalKind::reading) continue;
            const Rational& accuracy = user_.sensors[user_.signal(sensor).index].accuracy;
            if ((r.goal.at != c.on && r.goal.at != c.off) || sgn(accuracy) == 0) continue;
            return "on the threshold: the other value may show within the accuracy of " + user_.name_of(sensor) + ", " +
                   sim::difference_text(user_, sensor, accuracy);
        }
        return "";
    }

    const Model& user_;
    const Points& points_;
    const Played& played_;
    const std::size_t step_;
    const Rest& after_;
    int next_;
    const Model& m_;
    std::vector<Look> looks_;
    std::vector<CardReading> out_;
};

}  // namespace

std::vector<CardReading> readings_of(const Model& user, const Points& points, const Played& played, std::size_t step,
                                     int first) {
    return StepReadings(user, points, played, step, first).all();
}

std::string wait_words(const Model& user, const Points& points, const Rest& after) {
    const Rational scan = points.bench.model.scan, all = after.scans * scan;
    if (all < worth_a_watch) return "";
    const Change* last = nullptr;
    for (const Change& c : after.changes)
        if (std::find(points.looks.begin(), points.looks.end(), c.signal) != points.looks.end()) last = &c;
    const std::string until = seconds_words(all + 2 * scan);
    if (last && last->scan * scan >= worth_a_watch && last->scan + 10 > after.scans)
        return until + ", until " + user.name_of(last->signal) + " changes";
    return until + ", until the last timer has run out";
}

}  // namespace lanyard::card
