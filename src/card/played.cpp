#include "card/played.hpp"

#include <algorithm>
#include <limits>

namespace lanyard::card {

namespace {

Settings cut_to(const Settings& set, const Model& m) {
    Settings out = set;
    out.positions.resize(m.switches.size());
    out.quantities.resize(m.quantities.size());
    return out;
}

// The same steps on the model with its hidden switches and on the untouched one.
class Confirmation {
 public:
    Confirmation(const Model& plain, const Points& points, const Plan& plan, const StopFlag& stop)
        : points_(points),
          plan_(plan),
          stop_(stop),
          player_(points.flipped, points.watched(), stop),
          patient_(points.flipped, points.watched(), never_),
          plain_player_(plain, points.looks, stop),
          plain_patient_(plain, points.looks, never_),
          search_(points, player_, std::numeric_limits<long>::max()) {}

    Played run(const std::string& outside) {
        begin();
        found_.resize(plan_.reached.size());
        std::size_t s = 0;
        for (; s < plan_.steps.size() && take(plan_.steps[s]); ++s)
            for (std::size_t r = 0; r < found_.size(); ++r)
                if (plan_.reached[r].shown == s) found_[r] = confirm(plan_.reached[r]);
        if (s < plan_.steps.size()) end_early();
        for (std::size_t r = 0; r < found_.size(); ++r) collect(r, s, outside);
        return std::move(out_);
    }

 private:
    struct Found {
        bool brought = false;
        std::vector<SignalId> looks;
        std::string why_not;
    };

    void begin() {
        const Settings rest = at_rest(points_.flipped, points_.bench.inputs);
        out_.rests.push_back(patient_.power_up(rest));
        if (!out_.rests.front().legal) throw InternalError{"bench card: nothing is legal in the safe state"};
        plain_ = plain_patient_.power_up(cut_to(rest, plain_patient_.model()));
        compare();
    }

    // False: there was no time for it.
    bool take(const Settings& set) {
        Rest next = player_.play(out_.rests.back(), set);
        Rest plain = plain_player_.play(plain_, cut_to(set, plain_player_.model()));
        if (stop_.raised()) return false;
        out_.rests.push_back(std::move(next));
        plain_ = std::move(plain);
        compare();
        return true;
    }

    void end_early() {
        const Settings rest = at_rest(points_.flipped, points_.bench.inputs);
        if (out_.rests.back().set == rest) return;
        out_.rests.push_back(patient_.play(out_.rests.back(), rest));
        plain_ = plain_patient_.play(plain_, cut_to(rest, plain_patient_.model()));
        compare();
    }

    void compare() const {
        const Rest& now = out_.rests.back();
        for (const SignalId id : points_.looks) {
            if (plain_.legal && plain_.rests == now.rests && plain_.signals[id] == now.signals[id]) continue;
            throw InternalError{"bench card, step " + std::to_string(out_.rests.size() - 1) + ": " +
                                points_.flipped.name_of(id) + " is not expected as the interpreter computes it"};
        }
    }

    Found confirm(const Reached& r) const {
        const Rest &before = out_.rests[r.step], &after = out_.rests[r.step + 1];
        Found out;
        out.why_not = "a setting was found only with shortened timers";
        if (!brings(points_, r.goal, before, after)) return out;
        if (r.goal.passing && !lasts(r.goal, before, after)) {
            out.why_not = "it is too short for a stopwatch";
            return out;
        }
        if (r.shows)
            out.looks = r.step == r.shown ? search_.shown_at(r.goal, before, after)
                                          : search_.shown_later(r.goal, out_.rests, r.step, r.shown);
        out.brought = !r.shows || !out.looks.empty();
        return out;
    }

    bool lasts(const Goal& goal, const Rest& before, const Rest& after) const {
        const auto p = passage(points_, goal, before, after);
        return p && (p->to - p->from) * points_.bench.model.scan >= worth_a_watch;
    }

    void collect(std::size_t r, std::size_t played, const std::string& outside) {
        const Reached& reached = plan_.reached[r];
        if (found_[r].brought) {
            out_.confirmed.push_back(reached);
            out_.shown.push_back(found_[r].looks);
        } else {
            const bool in_time = reached.shown < played && !stop_.raised();
            out_.lost.push_back({reached, in_time ? found_[r].why_not : outside});
        }
    }

    const Points& points_;
    const Plan& plan_;
    const StopFlag& stop_;
    const StopFlag never_{};
    const Player player_, patient_, plain_player_, plain_patient_;
    const Search search_;
    std::vector<Found> found_;
    Rest plain_;
    Played out_;
};

}  // namespace

Played played(const Model& user, const Points& points, const Plan& plan, const StopFlag& stop,
              const std::string& outside) {
    const Bench plain = on_the_bench(user);
    return Confirmation(plain.model, points, plan, stop).run(outside);
}

}  // namespace lanyard::card
