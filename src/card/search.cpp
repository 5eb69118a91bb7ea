#include "card/search.hpp"

#include <algorithm>

namespace lanyard::card {

namespace {

constexpr int most_expanded = 60;
constexpr long by_chance = 5;  // a setting that nothing speaks for comes later
constexpr std::size_t most_dark = 4, most_revealed = 12;
constexpr int all_tried = 2;  // so many of them with every setting there is

bool stays_turned(const Goal& goal) { return is_of_comparison(goal.kind); }

// Equal texts behave alike, and have lost the same with the power.
std::string text_of_rest(const Points& points, const Rest& rest) {
    std::string text = rest.now->state_text();
    if (rest.lost_with)
        for (const Memory& m : points.memories) text += std::get<bool>((*rest.lost_with)[m.value]) ? 'l' : '-';
    for (const bool on : rest.set.positions) text += on ? '1' : '0';
    for (const auto& x : rest.set.quantities) text += ' ' + x.get_str();
    return text;
}

}  // namespace

Search::Search(const Points& points, const Player& player, long scans)
    : points_(points),
      player_(player),
      scans_(scans),
      values_(values_of(points)),
      distance_(points, values_),
      seen_(like(points.decisions)) {}

void Search::note(const Rest& rest) {
    if (!rest.legal || !rest.rests || !rest.is_on(points_.bench.model.powered)) return;
    for (const DecisionId d : seen_.ids())
        if (points_.decisions[d].conditions.size() <= most_conditions)
            seen_[d].insert(combination_at(points_.decisions[d], rest));
}

Settings Search::applied(const Settings& set, const Want& want) const {
    Settings out = set;
    const BenchInput& in = points_.bench.inputs[want.input];
    if (in.is_number())
        out.quantities[in.index] = want.value.value_or(in.rests_at);
    else
        out.positions[in.index] = want.on;
    return out;
}

std::vector<Want> Search::all_wants(const Rest& here) const {
    std::vector<Want> out;
    for (const InputId k : points_.bench.inputs.ids()) {
        const BenchInput& in = points_.bench.inputs[k];
        if (!in.is_number()) out.push_back({k, !here.set.positions[in.index], {}});
        for (const auto& x : values_[k]) out.push_back({k, false, x});
    }
    return out;
}

std::vector<SignalId> Search::differing(const Rest& a, const Rest& b) const {
    std::vector<SignalId> out;
    if (!a.legal || !b.legal || !a.rests || !b.rests) return out;
    for (const SignalId id : points_.looks)
        if (a.signals[id] != b.signals[id]) out.push_back(id);
    return out;
}

Settings Search::turned_over(const Settings& set, const Goal& goal, bool over) const {
    Settings out = set;
    out.positions[points_.flips.at(goal.point)] = over;
    return out;
}

// What is turned over is this one piece of logic in this one situation: from where the conditions have come to be as
// they stay. Turned over before, it would have said something else of other combinations on the way.
Rest Search::twin(const Goal& goal, const Rest& before, const Rest& after) const {
    long from = 0;
    const auto passes = goal.passing ? passage(points_, goal, before, after) : std::nullopt;
    if (passes) return player_.play_turned(before, after.set, points_.flips.at(goal.point), passes->from, passes->to);
    if (goal.kind == GoalKind::combination) {
        const auto& conditions = points_.decisions[goal.item].conditions;
        for (const Change& c : after.changes)
            if (std::find(conditions.begin(), conditions.end(), c.signal) != conditions.end()) from = c.scan;
    }
    return player_.play_turned(before, after.set, points_.flips.at(goal.point), from);
}

// A time shows where something changes when it has run out or later, and would change at another time without it.
std::vector<SignalId> Search::changed_late(const Goal& goal, const Rest& before, const Rest& after) const {
    const auto late = late_change(points_, goal, after);
    std::vector<SignalId> out;
    if (!late) return out;
    const Rest other = twin(goal, before, after);
    const auto times = [](const Rest& rest, SignalId id) {
        std::vector<long> all;
        for (const Change& c : rest.changes)
            if (c.signal == id) all.push_back(c.scan);
        return all;
    };
    for (const SignalId id : points_.looks) {
        const auto real = times(after, id);
        if (!real.empty() && real.back() >= *late && other.legal && times(other, id) != real) out.push_back(id);
    }
    return out;
}

// What is there in passing shows where something would be otherwise meanwhile, and is either as long as that on or off
// in sight or never changes at all.
std::vector<SignalId> Search::differing_meanwhile(const Goal& goal, const Rest& before, const Rest& after) const {
    const auto passes = passage(points_, goal, before, after);
    std::vector<SignalId> out;
    if (!passes) return out;
    const Rest other = twin(goal, before, after);
    const auto meanwhile = [&](const Rest& rest, SignalId id) {
        Value value = before.signals[id];
        for (const Change& c : rest.changes)
            if (c.signal == id && c.scan < passes->to) value = c.to;
        return value;
    };
    for (const SignalId id : points_.looks) {
        long last = -1;
        for (const Change& c : after.changes)
            if (c.signal == id) last = c.scan;
        const bool in_sight = last < 0 || last >= passes->to;
        if (in_sight && other.legal && meanwhile(other, id) != meanwhile(after, id)) out.push_back(id);
    }
    return out;
}

std::vector<SignalId> Search::shown_at(const Goal& goal, const Rest& before, const Rest& after) const {
    if (goal.passing) return differing_meanwhile(goal, before, after);
    if (goal.kind == GoalKind::delay) return changed_late(goal, before, after);
    return differing(after, twin(goal, before, after));
}

std::vector<SignalId> Search::shown_later(const Goal& goal, const std::vector<Rest>& rests, std::size_t step,
                                          std::size_t shown) const {
    Rest other = twin(goal, rests[step], rests[step + 1]);
    for (std::size_t k = step + 1; k <= shown && other.legal; ++k)
        other = player_.play(other, turned_over(rests[k + 1].set, goal, stays_turned(goal)));
    return differing(rests[shown + 1], other);
}

// What a latch or a comparison was made to remember otherwise is brought to light by what is set next.
std::optional<Way> Search::reveal(const Goal& goal, const Rest& before, const Rest& after) {
    const bool stays = stays_turned(goal);
    struct Twins {
        Rest real, other;
        std::vector<Settings> way;
    };
    std::vector<Twins> open{{after, twin(goal, before, after), {after.set}}};
    std::set<std::string> known;
    for (std::size_t k = 0; k < open.size() && k < most_revealed && !is_over(); ++k) {
        const Twins here = open[k];
        if (!here.other.legal || !here.other.rests) continue;
        for (const Want& want : revealing(goal, here.real, here.other)) {
            const Settings set = applied(here.real.set, want);
            if (set == here.real.set || (stays && want.input == points_.comparisons[goal.item].input)) continue;
            Twins next{player_.play(here.real, set), player_.play(here.other, turned_over(set, goal, stays)), here.way};
            if (!next.real.legal || !next.real.rests || !known.insert(text_of_rest(points_, next.real)).second)
                continue;
            next.way.push_back(set);
            note(next.real);
            if (auto looks = differing(next.real, next.other); !looks.empty())
                return Way{next.way, 0, std::move(looks)};
            open.push_back(std::move(next));
        }
    }
    return std::nullopt;
}

std::vector<Want> Search::revealing(const Goal& goal, const Rest& real, const Rest& other) const {
    Need best{out_of_reach, {}};
    const auto try_one = [&](SignalId id) {
        Need n = distance_.to_show(real, id);
        if (n.cost < best.cost) best = std::move(n);
    };
    for (const Memory& m : points_.memories)
        if (real.is_on(m.value) != other.is_on(m.value)) try_one(m.value);
    if (stays_turned(goal)) try_one(goal.point);
    return best.wants;
}

std::optional<Way> Search::find(const Goal& goal, const Rest& from, bool has_to_show) {
    Tree tree{{{from, {}, 0, cost(goal, from)}}, {}, {text_of_rest(points_, from)}, {}};
    tree.open.emplace(0, tree.nodes.last());
    for (int expanded = 0; !tree.open.empty() && expanded < most_expanded && !is_over(); ++expanded) {
        const Id<Node> parent = tree.open.top().second;
        tree.open.pop();
        if (auto way = expand(goal, tree, parent, expanded < all_tried, has_to_show)) return way;
    }
    if (!has_to_show || goal.passing) return std::nullopt;
    std::stable_sort(tree.dark.begin(), tree.dark.end(), [](const Dark& a, const Dark& b) { return a.cost < b.cost; });
    for (std::size_t k = 0; k < tree.dark.size() && k < most_dark && !is_over(); ++k) {
        const Dark& dark = tree.dark[k];
        auto way = reveal(goal, tree.nodes[dark.parent].rest, dark.after);
        if (!way) continue;
        const auto to = way_to(tree, dark.parent);
        way->steps.insert(way->steps.begin(), to.begin(), to.end());
        way->brings = to.size();
        return way;
    }
    return std::nullopt;
}

std::vector<Settings> Search::way_to(const Tree& tree, Id<Node> node) {
    std::vector<Settings> way;
    for (Id<Node> k = node; tree.nodes[k].parent; k = tree.nodes[k].parent)
        way.insert(way.begin(), tree.nodes[k].rest.set);
    return way;
}

std::optional<Way> Search::expand(const Goal& goal, Tree& tree, Id<Node> parent, bool everything, bool has_to_show) {
    const Rest here = tree.nodes[parent].rest;
    const long depth = tree.nodes[parent].depth + 1;
    std::vector<Want> wants = need_of(points_, distance_, goal, here).wants;
    const std::size_t helpful = wants.size();
    if (everything || wants.empty())
        for (const Want& w : all_wants(here)) wants.push_back(w);
    std::vector<Settings> tried;
    for (std::size_t w = 0; w < wants.size() && !is_over(); ++w) {
        const Settings set = applied(here.set, wants[w]);
        if (set == here.set || std::find(tried.begin(), tried.end(), set) != tried.end()) continue;
        tried.push_back(set);
        Node next{player_.play(here, set), parent, depth, 0};
        if (!next.rest.legal || !next.rest.rests) continue;
        note(next.rest);
        if (brings(points_, goal, here, next.rest)) {
            auto looks = shown_at(goal, here, next.rest);
            if (!has_to_show || !looks.empty()) {
                Way way{way_to(tree, parent), 0, std::move(looks)};
                way.brings = way.steps.size();
                way.steps.push_back(set);
                return way;
            }
            tree.dark.push_back({cost(goal, next.rest), parent, next.rest});
        }
        if (!tree.known.insert(text_of_rest(points_, next.rest)).second) continue;
        next.cost = cost(goal, next.rest);
        if (next.cost >= out_of_reach) continue;
        tree.open.emplace(depth + 2 * next.cost + (w < helpful ? 0 : by_chance), tree.nodes.next());
        tree.nodes.push_back(std::move(next));
    }
    return std::nullopt;
}

}  // namespace lanyard::card
