#include "circuit/flow.hpp"
#include "base/slot.hpp"

#include <algorithm>

namespace lanyard {

namespace {

Fed both(const Fed& a, const Fed& b) { return {a.must && b.must, a.may && b.may}; }

bool any_of(const std::vector<bool>& set) { return std::find(set.begin(), set.end(), true) != set.end(); }

}  // namespace

Flow::Flow(const Circuit& circuit, std::vector<bool> closed, std::vector<bool> both_ways, std::vector<bool> live)
    : circuit_(circuit),
      closed_(std::move(closed)),
      both_ways_(std::move(both_ways)),
      live_(std::move(live)),
      roots_(returns_of(circuit)),
      heights_(heights_of(circuit)),
      dead_(circuit.sources.size()),
      blown_(circuit.branches.size()),
      may_blow_(circuit.branches.size()) {
    find_shorts();
    for (const int root : roots_) returns_.push_back(levels(root));
}

bool Flow::passes(int b, int here, Sign sign) const {
    return both_ways_[slot(b)] || passes_diode(branch(b), here, sign);
}

bool Flow::leads(int b, int here, Sign sign) const { return !is_consumer(branch(b)) && passes(b, here, sign); }

template <class Into>
void Flow::spread(NodeSet& has, Reached* by, Sign sign, Sources sources, const Into& into) const {
    const auto enter = [&](int b, int there) {
        if (by) (*by)[slot(there)] = b;
        return true;
    };
    for (bool more = true; more;) {
        lanyard::spread(circuit_, circuit_.at, has, [&](int b, int here, int there) {
            return closed(b) && passes(b, here, sign) && into(b, there) && enter(b, there);
        });
        more = false;
        if (sources == Sources::stop) return;
        for_each_passage(circuit_, sign, [&](std::size_t, int here, int there, bool) {
            if (!has[slot(here)] || has[slot(there)] || !into(-1, there)) return;
            has[slot(there)] = more = enter(-1, there);
        });
    }
}

template <class Counts>
NodeSet Flow::heights(int root, Sign sign, const Counts& counts) const {
    NodeSet has(heights_ * circuit_.nodes.size());
    std::vector<std::pair<std::size_t, int>> open;
    const auto enter = [&](std::size_t height, int node) {
        if (has[at_height(height, node)]) return;
        has[at_height(height, node)] = true;
        open.emplace_back(height, node);
    };
    if (sign == Sign::ground)
        for (std::size_t h = 0; h < heights_; ++h) enter(h, root);
    for (std::size_t s = 0; sign == Sign::plus && s < circuit_.sources.size(); ++s)
        if (live_[s] && circuit_.sources[s].minus == root) enter(0, circuit_.sources[s].plus);
    while (!open.empty()) {
        const auto [height, here] = open.back();
        open.pop_back();
        for (const int b : circuit_.at[slot(here)]) {
            const int there = other_end(branch(b), here);
            // A loop comes back to the return once.
            if (sign == Sign::plus && there == root) continue;
            if (is_copper(b) && counts(b) && passes(b, here, sign)) enter(height, there);
        }
        if (!in_series()) continue;
        const std::size_t h = height;
        const int node = here;
        for_each_passage(circuit_, sign, [&](std::size_t, int from, int to, bool upwards) {
            if (from != node) return;
            for (const std::size_t next : heights_after(h, heights_, sign, upwards)) enter(next, to);
        });
    }
    return has;
}

void Flow::find_shorts() {
    const auto all = [](int) { return true; };
    bool any_short = false;
    for (const int root : roots_) {
        const NodeSet leads_back = heights(root, Sign::ground, all);
        for (std::size_t s = 0; s < circuit_.sources.size(); ++s)
            any_short = any_short || (live_[s] && circuit_.sources[s].minus == root &&
                                      leads_back[at_height(0, circuit_.sources[s].plus)]);
    }
    if (!any_short) return;
    for (const int root : roots_) {
        const NodeSet leads_back =
            heights(root, Sign::ground, [&](int b) { return branch(b).kind != BranchKind::fuse; });
        for (std::size_t s = 0; s < circuit_.sources.size(); ++s)
            if (live_[s] && circuit_.sources[s].minus == root && leads_back[at_height(0, circuit_.sources[s].plus)])
                dead_[s] = true;
    }
    for (std::size_t b = 0; b < circuit_.branches.size(); ++b)
        if (circuit_.branches[b].kind == BranchKind::fuse && closed_[b]) judge_fuse(static_cast<int>(b));
}

void Flow::judge_fuse(int fuse) {
    const Branch& f = branch(fuse);
    const auto meets = [&](int root, std::size_t most, const auto& counts) {
        const NodeSet plus = heights(root, Sign::plus, counts), ground = heights(root, Sign::ground, counts);
        for (std::size_t h = 0; h < most; ++h)
            for (const auto& [from, to] : {std::pair(f.from, f.to), std::pair(f.to, f.from)})
                if (plus[at_height(h, from)] && ground[at_height(h, to)]) return true;
        return false;
    };
    for (const int root : roots_)
        if (meets(root, heights_, [&](int b) { return b != fuse; })) may_blow_[slot(fuse)] = true;
    if (!may_blow_[slot(fuse)] || any_of(dead_)) return;
    for (std::size_t s = 0; s < circuit_.sources.size(); ++s) {
        if (!live_[s]) continue;
        NodeSet plus(circuit_.nodes.size()), ground = plus;
        plus[slot(circuit_.sources[s].plus)] = ground[slot(circuit_.sources[s].minus)] = true;
        const auto bare = [&](int b, int) { return is_copper(b) && branch(b).kind != BranchKind::fuse; };
        spread(plus, nullptr, Sign::plus, Sources::stop, bare);
        spread(ground, nullptr, Sign::ground, Sources::stop, bare);
        if ((plus[slot(f.from)] && ground[slot(f.to)]) || (plus[slot(f.to)] && ground[slot(f.from)]))
            blown_[slot(fuse)] = true;
    }
}

Flow::Return Flow::levels(int root) const {
    Return r;
    r.root = root;
    const NodeSet none(circuit_.nodes.size());
    r.below_dead = r.above_dead = r.up = r.plus = r.ground = none;
    for (std::size_t s = 0; s < circuit_.sources.size(); ++s) {
        if (!dead_[s]) continue;
        r.below_dead[slot(circuit_.sources[s].plus)] = true;
        r.above_dead[slot(circuit_.sources[s].minus)] = true;
    }
    r.below_dead[slot(root)] = r.above_dead[slot(root)] = false;
    const auto short_of_root = [&](int b, int node) { return node != root && (b < 0 || is_copper(b)); };
    spread(r.below_dead, nullptr, Sign::plus, passed(root), short_of_root);
    spread(r.above_dead, nullptr, Sign::ground, passed(root), short_of_root);

    r.up[slot(root)] = r.ground[slot(root)] = true;
    r.ground_by.assign(circuit_.nodes.size(), -1);
    r.plus_by = r.source_at = r.ground_by;
    spread(r.up, nullptr, Sign::plus, Sources::stop,
           [&](int b, int node) { return sure_copper(b) && !r.above_dead[slot(node)]; });
    const auto in_order = [&](int node) { return !r.above_dead[slot(node)]; };
    for (bool more = true; more;) {
        more = false;
        for (std::size_t s = 0; s < circuit_.sources.size(); ++s) {
            const Source& source = circuit_.sources[s];
            const bool gives = is_sure(s) && (r.up[slot(source.minus)] || r.plus[slot(source.minus)]);
            if (!gives || source.plus == root || !in_order(source.plus)) continue;
            if (r.source_at[slot(source.plus)] < 0) r.source_at[slot(source.plus)] = static_cast<int>(s);
            if (r.plus[slot(source.plus)]) continue;
            r.plus[slot(source.plus)] = more = true;
        }
        spread(r.plus, &r.plus_by, Sign::plus, Sources::stop,
               [&](int b, int node) { return node != root && sure_copper(b) && in_order(node); });
    }
    for (bool more = true; more;) {
        spread(r.ground, &r.ground_by, Sign::ground, Sources::stop,
               [&](int b, int node) { return sure_copper(b) && !r.below_dead[slot(node)]; });
        more = false;
        for (std::size_t s = 0; s < circuit_.sources.size(); ++s) {
            const Source& source = circuit_.sources[s];
            const auto lower = slot(source.minus);
            if (!is_sure(s) || !r.ground[slot(source.plus)] || r.ground[lower] || r.below_dead[lower]) continue;
            r.ground[lower] = more = true;
        }
    }
    return r;
}

NodeSet Flow::weak(const Return& r, Sign sign, const Asked& asked, Reached* by) const {
    const Return& chassis = returns_.front();
    const auto up = [&](int node) { return node >= 0 && chassis.up[slot(node)]; };
    const auto down = [&](int node) { return node >= 0 && chassis.ground[slot(node)]; };
    const bool other = r.root != 0;
    const bool above = other && sign == Sign::plus && up(asked.ground_end);
    const bool below = other && sign == Sign::ground && down(asked.plus_end);
    const auto held = [&](int node) {
        return (sign == Sign::plus ? r.ground : r.plus)[slot(node)] || (above && down(node)) || (below && up(node));
    };
    const auto conducts = [&](int b) { return (b < 0 || b != asked.without) && lets_pass(b); };
    NodeSet has(circuit_.nodes.size());
    const auto begin = [&](int node) { has[slot(node)] = has[slot(node)] || !held(node); };
    if (sign == Sign::plus) {
        for (std::size_t s = 0; s < circuit_.sources.size(); ++s)
            if (live_[s] && circuit_.sources[s].minus == r.root) begin(circuit_.sources[s].plus);
    } else {
        NodeSet sinks = has;
        sinks[slot(r.root)] = true;
        spread(sinks, nullptr, sign, passed(r.root), [&](int b, int) { return conducts(b); });
        begin(r.root);
        for (std::size_t s = 0; s < circuit_.sources.size(); ++s)
            if (live_[s] && sinks[slot(circuit_.sources[s].plus)]) begin(circuit_.sources[s].minus);
    }
    spread(has, by, sign, passed(r.root), [&](int b, int node) { return conducts(b) && !held(node); });
    return has;
}

const NodeSet& Flow::weak(const Return& r, Sign sign) const {
    auto& known = sign == Sign::plus ? r.weak_plus : r.weak_ground;
    if (known.empty()) known = weak(r, sign, Asked{});
    return known;
}

std::optional<Way> Flow::back(int node, Sign sign, const NodeSet& has, const Reached& by) const {
    if (!has[slot(node)]) return std::nullopt;
    Way way;
    for (int b = by[slot(node)]; b >= 0; b = by[slot(node)]) {
        way.branches.push_back(b);
        node = other_end(branch(b), node);
    }
    way.begin = node;
    if (sign == Sign::plus) {
        way.source = shown().source_at[slot(node)];
        for (std::size_t s = 0; way.source < 0 && s < circuit_.sources.size(); ++s)
            if (circuit_.sources[s].plus == node) way.source = static_cast<int>(s);
    }
    std::reverse(way.branches.begin(), way.branches.end());
    return way;
}

std::optional<Way> Flow::way(int node, Sign sign) const {
    const Return& r = shown();
    return sign == Sign::plus ? back(node, sign, r.plus, r.plus_by) : back(node, sign, r.ground, r.ground_by);
}

std::optional<Way> Flow::weak_way(int node, Sign sign, int without) const {
    Reached by(circuit_.nodes.size(), -1);
    const NodeSet has = weak(shown(), sign, Asked{without, -1, -1}, &by);
    return back(node, sign, has, by);
}

template <class Counts>
std::optional<Way> Flow::lead(int from, int to, const Counts& counts) const {
    NodeSet has(circuit_.nodes.size());
    Reached by(circuit_.nodes.size(), -1);
    has[slot(from)] = true;
    spread(has, &by, Sign::plus, in_series() ? Sources::pass : Sources::stop,
           [&](int b, int) { return b < 0 || (is_copper(b) && counts(b)); });
    return back(to, Sign::plus, has, by);
}

std::optional<Way> Flow::dead_short(int node) const {
    for (std::size_t s = 0; s < circuit_.sources.size(); ++s) {
        if (!dead_[s]) continue;
        const Source& source = circuit_.sources[s];
        if (!lead(source.plus, node, [](int) { return true; })) continue;
        return lead(source.plus, source.minus, [&](int b) { return branch(b).kind != BranchKind::fuse; });
    }
    return std::nullopt;
}

std::optional<Way> Flow::short_through(int fuse) const {
    const Branch& f = branch(fuse);
    const auto others = [&](int b) { return b != fuse; };
    for (std::size_t s = 0; s < circuit_.sources.size(); ++s)
        for (const auto& [from, to] : {std::pair(f.from, f.to), std::pair(f.to, f.from)}) {
            if (!live_[s]) continue;
            auto there = lead(circuit_.sources[s].plus, from, others);
            const auto on = lead(to, circuit_.sources[s].minus, others);
            if (!there || !on) continue;
            there->branches.push_back(fuse);
            there->branches.insert(there->branches.end(), on->branches.begin(), on->branches.end());
            return there;
        }
    return std::nullopt;
}

void Flow::turn_to(int branch) {
    shown_ = 0;
    for (std::size_t r = 1; r < returns_.size(); ++r)
        if (works(returns_[r], branch).may && !works(returns_[shown_], branch).must) shown_ = r;
}

Fed Flow::has(const Return& r, Sign sign, int node) const {
    if ((sign == Sign::plus ? r.plus : r.ground)[slot(node)]) return {true, true};
    return {false, weak(r, sign)[slot(node)]};
}

template <class Answer>
Fed Flow::by_any(const Answer& answer) const {
    Fed out;
    for (const Return& r : returns_) {
        const Fed a = answer(r);
        out = {out.must || a.must, out.may || a.may};
    }
    return out;
}

Fed Flow::has_plus(int node) const {
    return by_any([&](const Return& r) { return has(r, Sign::plus, node); });
}

Fed Flow::is_grounded(int node) const { return has(returns_.front(), Sign::ground, node); }

Fed Flow::input_has_plus(int node) const {
    const int own = std::max(circuit_.supply_minus, 0);
    return by_any([&](const Return& r) { return both(has(r, Sign::plus, node), has(r, Sign::ground, own)); });
}

Fed Flow::input_is_grounded(int node) const {
    const int own = std::max(circuit_.supply_minus, 0);
    const Fed by_return = by_any([&](const Return& r) {
        const Fed ground = has(r, Sign::ground, node);
        return Fed{ground.must && r.up[slot(own)], ground.may && has(r, Sign::ground, own).may};
    });
    const bool may = circuit_.supply_plus < 0 ? by_return.may : is_fed(circuit_.supply_plus, node).may;
    return {by_return.must, by_return.must || may};
}

Fed Flow::is_stopped(int lead) const {
    const Return& r = returns_.front();
    if (r.ground[slot(lead)] && r.up[slot(lead)]) return {true, true};
    NodeSet from_chassis(circuit_.nodes.size());
    from_chassis[0] = true;
    spread(from_chassis, nullptr, Sign::plus, Sources::pass, [&](int b, int) { return lets_pass(b); });
    return {false, from_chassis[slot(lead)] || is_grounded(lead).may || has_plus(lead).may};
}

Fed Flow::is_fed(int plus, int minus) const {
    return by_any([&](const Return& r) { return both(has(r, Sign::plus, plus), has(r, Sign::ground, minus)); });
}

Fed Flow::works(int branch) const {
    if (!closed(branch)) return {};
    return by_any([&](const Return& r) { return works(r, branch); });
}

Fed Flow::works(const Return& r, int branch) const {
    const Branch& b = circuit_.branches[slot(branch)];
    const auto sure = [&](int from, int to) { return r.plus[slot(from)] && r.ground[slot(to)]; };
    if (sure(b.from, b.to) || (!b.polar && sure(b.to, b.from))) return {true, true};
    const auto possible = [&](int from, int to) {
        // Without the branch there is less.
        if (!weak(r, Sign::plus)[slot(from)] || !weak(r, Sign::ground)[slot(to)]) return false;
        const Asked asked{branch, from, to};
        return weak(r, Sign::plus, asked)[slot(from)] && weak(r, Sign::ground, asked)[slot(to)];
    };
    return {false, possible(b.from, b.to) || (!b.polar && possible(b.to, b.from))};
}

}  // namespace lanyard
