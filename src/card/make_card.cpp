#include "card/make_card.hpp"

#include "card/write_card.hpp"

namespace lanyard::card {

namespace {

class Maker {
 public:
    Maker(const Model& user, const DriverOptions& options)
        : user_(user), limits_(options), points_(points_of(on_the_bench(user))) {}

    Card make() {
        if (points_.bench.inputs.empty()) return empty_card(user_, points_, "nothing in this model can be set");
        if (!points_.has_logic()) return empty_card(user_, points_, "the model has no logic to test");
        if (points_.looks.empty())
            return empty_card(user_, points_, "there is nothing to look at: the model has no output and no load");
        Card out;
        const bool searched = within(part_of_search, [&](const StopFlag& stop) { search(stop); });
        if (plan_.never_rests)
            return empty_card(user_, points_, "something keeps changing for ever, whichever single thing is set");
        const bool played = searched && within(1, [&](const StopFlag& stop) { out = play(stop); });
        out.interrupted = !played;
        return out;
    }

 private:
    // In a thread of its own, beside which somebody watches time, memory and Ctrl-C. False: Ctrl-C.
    bool within(double part, const std::function<void(const StopFlag&)>& work) const {
        PoolTasks tasks;
        tasks.count = 1;
        tasks.work = [&](std::size_t, const JudgeOptions& o) { work(*o.stop); };
        return !run_pool(tasks, limits_.up_to(part));
    }

    void search(const StopFlag& stop) {
        const Model ahead = hurried(points_.flipped);
        plan_ = make_plan(points_, Player(ahead, points_.watched(), stop), limits_);
    }

    Card play(const StopFlag& stop) const {
        const Played played_steps = played(user_, points_, plan_, stop, limits_.outside());
        return write_card(user_, points_, plan_, played_steps, Player(points_.flipped, {}, stop));
    }

    const Model& user_;
    const Limits limits_;
    const Points points_;
    Plan plan_;
};

}  // namespace

Card make_card(const Model& model, const DriverOptions& options) { return Maker(model, options).make(); }

}  // namespace lanyard::card
