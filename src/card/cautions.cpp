#include "card/cautions.hpp"

#include <algorithm>
#include <functional>

#include "card/wording.hpp"

namespace lanyard::card {

namespace {

using GoesLive = std::function<bool(SignalId)>;

std::ptrdiff_t live_looks(const Points& points, const Rest& rest) {
    return std::count_if(points.looks.begin(), points.looks.end(),
                         [&](SignalId id) { return is_live(rest.signals[id]); });
}

std::string names_of(const Model& user, const std::vector<SignalId>& ids, const GoesLive& goes_live) {
    std::string out;
    for (const SignalId id : ids)
        if (goes_live(id)) out += (out.empty() ? "" : ", ") + user.name_of(id);
    return out;
}

void add_engine_cautions(const Model& user, const GoesLive& goes_live, std::vector<std::string>& out) {
    const Engine& e = *user.engine;
    const auto load = [&](LoadId l) { return user.loads[l].signal; };
    if (e.cranks_with && goes_live(load(e.cranks_with)))
        out.push_back(user.name_of(load(e.cranks_with)) + " turns the engine unless it is disconnected");
    std::vector<SignalId> firing;
    for (const LoadId l : e.fires_with) firing.push_back(load(l));
    const std::string fires = names_of(user, firing, goes_live);
    if (!fires.empty()) out.push_back("fuel and spark: " + fires + " live");
}

}  // namespace

bool is_live(const Value& v) {
    if (const auto* b = std::get_if<bool>(&v)) return *b;
    const auto* x = std::get_if<Rational>(&v);
    return x && sgn(*x) > 0;
}

std::vector<std::string> cautions(const Model& user, const Points& points, const Rest& before, const Rest& after) {
    const GoesLive goes_live = [&](SignalId id) {
        if (is_live(before.signals[id])) return false;
        return is_live(after.signals[id]) ||
               std::any_of(after.changes.begin(), after.changes.end(),
                           [&](const Change& c) { return c.signal == id && is_live(c.to); });
    };
    std::vector<std::string> out;
    if (user.engine) add_engine_cautions(user, goes_live, out);
    const std::string all = names_of(user, points.looks, goes_live);
    if (!all.empty()) out.push_back("what is fed by " + all + " may start, move or get hot");
    return out;
}

std::string stop_words(const Points& points, const Player& player, const std::vector<Rest>& rests) {
    const auto worst = std::max_element(rests.begin(), rests.end(), [&](const Rest& a, const Rest& b) {
        return live_looks(points, a) < live_looks(points, b);
    });
    if (live_looks(points, *worst) == 0) return "";
    for (const auto& in : points.bench.inputs) {
        if (in.kind != InputKind::hand_switch) continue;
        Settings set = worst->set;
        set.positions[in.index].flip();
        const bool to = set.positions[in.index];
        // Whatever has been set by then.
        const bool cuts = std::all_of(rests.begin(), rests.end(), [&](const Rest& before) {
            if (live_looks(points, before) == 0) return true;
            Settings then = before.set;
            if (then.positions[in.index] == to) return false;
            then.positions[in.index] = to;
            const Rest after = player.play(before, then);
            return after.legal && after.rests && live_looks(points, after) == 0;
        });
        if (!cuts) continue;
        const CardSetting words = setting_words(points, in, set);
        return words.what + " " + words.to;
    }
    return "";
}

}  // namespace lanyard::card
