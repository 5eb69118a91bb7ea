#include "card/played.hpp"

#include <algorithm>

namespace lanyard::card {

namespace {

Settings cut_to(const Settings& set, const Model& m) {
    Settings out = set;
    out.positions.resize(m.switches.size());
    out.quantities.resize(m.quantities.size());
    return out;
}

class Confirmation {
 public:
    Confirmation(const Points& points, const Plan& plan)
        : points_(points), plan_(plan), player_(points.flipped, points.watched()), search_(points, player_) {}

    Played run() {
        out_.rests.push_back(player_.power_up(at_rest(points_.flipped, points_.bench.inputs)));
        if (!out_.rests.front().legal) throw InternalError{"bench card: nothing is legal in the safe state"};
        for (const Settings& set : plan_.steps) out_.rests.push_back(player_.play(out_.rests.back(), set));
        for (const Reached& r : plan_.reached) confirm(r);
        return std::move(out_);
    }

 private:
    void confirm(const Reached& r) {
        const Rest &before = out_.rests[r.step], &after = out_.rests[r.step + 1];
        const bool brought = brings(points_, r.goal, before, after);
        const auto looks = brought && r.shows ? shown(r) : std::vector<SignalId>();
        if (!brought || (r.shows && looks.empty())) {
            out_.lost.push_back(r);
            return;
        }
        out_.confirmed.push_back(r);
        out_.shown.push_back(looks);
    }

    std::vector<SignalId> shown(const Reached& r) const {
        if (r.step == r.shown) return search_.shown_at(r.goal, out_.rests[r.step], out_.rests[r.step + 1]);
        return search_.shown_later(r.goal, out_.rests, r.step, r.shown);
    }

    const Points& points_;
    const Plan& plan_;
    Player player_;
    Search search_;
    Played out_;
};

// The same steps on the untouched model.
void compare_with(const Model& plain, const Points& points, const Plan& plan, const std::vector<Rest>& rests) {
    const Player player(plain, points.looks);
    Rest now = player.power_up(cut_to(rests.front().set, plain));
    for (std::size_t k = 0; k < rests.size(); ++k) {
        if (k > 0) now = player.play(now, cut_to(plan.steps[k - 1], plain));
        for (const SignalId id : points.looks) {
            const auto s = static_cast<std::size_t>(id);
            if (now.legal && now.rests == rests[k].rests && now.signals[s] == rests[k].signals[s]) continue;
            throw InternalError{"bench card, step " + std::to_string(k) + ": " + plain.name_of(id) +
                                " is expected otherwise than the interpreter has it"};
        }
    }
}

}  // namespace

Played played(const Model& user, const Points& points, const Plan& plan) {
    Played out = Confirmation(points, plan).run();
    compare_with(on_the_bench(user).model, points, plan, out.rests);
    return out;
}

}  // namespace lanyard::card
