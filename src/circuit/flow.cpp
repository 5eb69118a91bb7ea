#include "circuit/flow.hpp"

#include <algorithm>

namespace lanyard::circuit {

namespace {

Fed both(const Fed& a, const Fed& b) { return {a.must && b.must, a.may && b.may}; }

bool any_of(const Indexed<Source, bool>& set) { return std::find(set.begin(), set.end(), true) != set.end(); }

}  // namespace

Flow::Flow(const Circuit& circuit, Indexed<Branch, bool> closed, Indexed<Branch, bool> both_ways,
           Indexed<Source, bool> live)
    : circuit_(circuit),
      closed_(std::move(closed)),
      both_ways_(std::move(both_ways)),
      live_(std::move(live)),
      roots_(returns_of(circuit)),
      heights_(heights_of(circuit)),
      dead_(like(circuit.sources)),
      blown_(like(circuit.branches)),
      may_blow_(circuit.branches.size()) {
    find_shorts();
    for (const NodeId root : roots_) returns_.push_back(levels(root));
}

bool Flow::passes(BranchId b, NodeId here, Sign sign) const {
    return both_ways_[b] || passes_diode(branch(b), here, sign);
}

bool Flow::leads(BranchId b, NodeId here, Sign sign) const { return !is_consumer(branch(b)) && passes(b, here, sign); }

template <class Into>
void Flow::spread(NodeSet& has, Reached* by, Sign sign, Sources sources, const Into& into) const {
    const auto enter = [&](BranchId b, NodeId there) {
        if (by) (*by)[there] = b;
        return true;
    };
    for (bool more = true; more;) {
        lanyard::circuit::spread(circuit_, has, [&](BranchId b, NodeId here, NodeId there) {
            return closed(b) && passes(b, here, sign) && into(b, there) && enter(b, there);
        });
        more = false;
        if (sources == Sources::stop) return;
        for_each_passage(circuit_, sign, [&](SourceId, NodeId here, NodeId there, bool) {
            if (!has[here] || has[there] || !into(BranchId{}, there)) return;
            has[there] = more = enter(BranchId{}, there);
        });
    }
}

template <class Counts>
Indexed<Raised, bool> Flow::heights(NodeId root, Sign sign, const Counts& counts) const {
    Indexed<Raised, bool> has(heights_ * circuit_.nodes.size());
    std::vector<std::pair<std::size_t, NodeId>> open;
    const auto enter = [&](std::size_t height, NodeId node) {
        if (has[at_height(height, node)]) return;
        has[at_height(height, node)] = true;
        open.emplace_back(height, node);
    };
    if (sign == Sign::ground)
        for (std::size_t h = 0; h < heights_; ++h) enter(h, root);
    for (const SourceId s : circuit_.sources.ids())
        if (sign == Sign::plus && live_[s] && circuit_.sources[s].minus == root) enter(0, circuit_.sources[s].plus);
    while (!open.empty()) {
        const auto [height, here] = open.back();
        open.pop_back();
        for (const BranchId b : circuit_.at[here]) {
            const NodeId there = other_end(branch(b), here);
            // A loop comes back to the return once.
            if (sign == Sign::plus && there == root) continue;
            if (is_copper(b) && counts(b) && passes(b, here, sign)) enter(height, there);
        }
        if (!in_series()) continue;
        const std::size_t h = height;
        const NodeId node = here;
        for_each_passage(circuit_, sign, [&](SourceId, NodeId from, NodeId to, bool upwards) {
            if (from != node) return;
            for (const std::size_t next : heights_after(h, heights_, sign, upwards)) enter(next, to);
        });
    }
    return has;
}

void Flow::find_shorts() {
    const auto all = [](BranchId) { return true; };
    bool any_short = false;
    for (const NodeId root : roots_) {
        const auto leads_back = heights(root, Sign::ground, all);
        for (const SourceId s : circuit_.sources.ids())
            any_short = any_short || (live_[s] && circuit_.sources[s].minus == root &&
                                      leads_back[at_height(0, circuit_.sources[s].plus)]);
    }
    if (!any_short) return;
    for (const NodeId root : roots_) {
        const auto leads_back =
            heights(root, Sign::ground, [&](BranchId b) { return branch(b).kind != BranchKind::fuse; });
        for (const SourceId s : circuit_.sources.ids())
            if (live_[s] && circuit_.sources[s].minus == root && leads_back[at_height(0, circuit_.sources[s].plus)])
                dead_[s] = true;
    }
    for (const BranchId b : circuit_.branches.ids())
        if (circuit_.branches[b].kind == BranchKind::fuse && closed_[b]) judge_fuse(b);
}

void Flow::judge_fuse(BranchId fuse) {
    const Branch& f = branch(fuse);
    const auto meets = [&](NodeId root, std::size_t most, const auto& counts) {
        const auto plus = heights(root, Sign::plus, counts), ground = heights(root, Sign::ground, counts);
        for (std::size_t h = 0; h < most; ++h)
            for (const auto& [from, to] : {std::pair(f.from, f.to), std::pair(f.to, f.from)})
                if (plus[at_height(h, from)] && ground[at_height(h, to)]) return true;
        return false;
    };
    for (const NodeId root : roots_)
        if (meets(root, heights_, [&](BranchId b) { return b != fuse; })) may_blow_[fuse] = true;
    if (!may_blow_[fuse] || any_of(dead_)) return;
    for (const SourceId s : circuit_.sources.ids()) {
        if (!live_[s]) continue;
        NodeSet plus(like(circuit_.nodes)), ground = plus;
        plus[circuit_.sources[s].plus] = ground[circuit_.sources[s].minus] = true;
        const auto bare = [&](BranchId b, NodeId) { return is_copper(b) && branch(b).kind != BranchKind::fuse; };
        spread(plus, nullptr, Sign::plus, Sources::stop, bare);
        spread(ground, nullptr, Sign::ground, Sources::stop, bare);
        if ((plus[f.from] && ground[f.to]) || (plus[f.to] && ground[f.from])) blown_[fuse] = true;
    }
}

Flow::Return Flow::levels(NodeId root) const {
    Return r;
    r.root = root;
    const NodeSet none(like(circuit_.nodes));
    r.below_dead = r.above_dead = r.up = r.plus = r.ground = none;
    for (const SourceId s : circuit_.sources.ids()) {
        if (!dead_[s]) continue;
        r.below_dead[circuit_.sources[s].plus] = true;
        r.above_dead[circuit_.sources[s].minus] = true;
    }
    r.below_dead[root] = r.above_dead[root] = false;
    const auto short_of_root = [&](BranchId b, NodeId node) { return node != root && (!b || is_copper(b)); };
    spread(r.below_dead, nullptr, Sign::plus, passed(root), short_of_root);
    spread(r.above_dead, nullptr, Sign::ground, passed(root), short_of_root);

    r.up[root] = r.ground[root] = true;
    r.plus_by = r.ground_by = Reached(like(circuit_.nodes));
    r.source_at = Indexed<Node, SourceId>(like(circuit_.nodes));
    spread(r.up, nullptr, Sign::plus, Sources::stop,
           [&](BranchId b, NodeId node) { return sure_copper(b) && !r.above_dead[node]; });
    const auto in_order = [&](NodeId node) { return !r.above_dead[node]; };
    for (bool more = true; more;) {
        more = false;
        for (const SourceId s : circuit_.sources.ids()) {
            const Source& source = circuit_.sources[s];
            const bool gives = is_sure(s) && (r.up[source.minus] || r.plus[source.minus]);
            if (!gives || source.plus == root || !in_order(source.plus)) continue;
            if (!r.source_at[source.plus]) r.source_at[source.plus] = s;
            if (r.plus[source.plus]) continue;
            r.plus[source.plus] = more = true;
        }
        spread(r.plus, &r.plus_by, Sign::plus, Sources::stop,
               [&](BranchId b, NodeId node) { return node != root && sure_copper(b) && in_order(node); });
    }
    for (bool more = true; more;) {
        spread(r.ground, &r.ground_by, Sign::ground, Sources::stop,
               [&](BranchId b, NodeId node) { return sure_copper(b) && !r.below_dead[node]; });
        more = false;
        for (const SourceId s : circuit_.sources.ids()) {
            const Source& source = circuit_.sources[s];
            const NodeId lower = source.minus;
            if (!is_sure(s) || !r.ground[source.plus] || r.ground[lower] || r.below_dead[lower]) continue;
            r.ground[lower] = more = true;
        }
    }
    return r;
}

NodeSet Flow::weak(const Return& r, Sign sign, const Asked& asked, Reached* by) const {
    const Return& chassis = returns_.front();
    const auto up = [&](NodeId node) { return node && chassis.up[node]; };
    const auto down = [&](NodeId node) { return node && chassis.ground[node]; };
    const bool other = r.root != ground_node;
    const bool above = other && sign == Sign::plus && up(asked.ground_end);
    const bool below = other && sign == Sign::ground && down(asked.plus_end);
    const auto held = [&](NodeId node) {
        return (sign == Sign::plus ? r.ground : r.plus)[node] || (above && down(node)) || (below && up(node));
    };
    const auto conducts = [&](BranchId b) { return (!b || b != asked.without) && lets_pass(b); };
    NodeSet has(like(circuit_.nodes));
    const auto begin = [&](NodeId node) { has[node] = has[node] || !held(node); };
    if (sign == Sign::plus) {
        for (const SourceId s : circuit_.sources.ids())
            if (live_[s] && circuit_.sources[s].minus == r.root) begin(circuit_.sources[s].plus);
    } else {
        NodeSet sinks = has;
        sinks[r.root] = true;
        spread(sinks, nullptr, sign, passed(r.root), [&](BranchId b, NodeId) { return conducts(b); });
        begin(r.root);
        for (const SourceId s : circuit_.sources.ids())
            if (live_[s] && sinks[circuit_.sources[s].plus]) begin(circuit_.sources[s].minus);
    }
    spread(has, by, sign, passed(r.root), [&](BranchId b, NodeId node) { return conducts(b) && !held(node); });
    return has;
}

const NodeSet& Flow::weak(const Return& r, Sign sign) const {
    auto& known = sign == Sign::plus ? r.weak_plus : r.weak_ground;
    if (known.empty()) known = weak(r, sign, Asked{});
    return known;
}

std::optional<Way> Flow::back(NodeId node, Sign sign, const NodeSet& has, const Reached& by) const {
    if (!has[node]) return std::nullopt;
    Way way;
    for (BranchId b = by[node]; b; b = by[node]) {
        way.branches.push_back(b);
        node = other_end(branch(b), node);
    }
    way.begin = node;
    if (sign == Sign::plus) {
        way.source = shown().source_at[node];
        for (const SourceId s : circuit_.sources.ids())
            if (!way.source && circuit_.sources[s].plus == node) way.source = s;
    }
    std::reverse(way.branches.begin(), way.branches.end());
    return way;
}

std::optional<Way> Flow::way(NodeId node, Sign sign) const {
    const Return& r = shown();
    return sign == Sign::plus ? back(node, sign, r.plus, r.plus_by) : back(node, sign, r.ground, r.ground_by);
}

std::optional<Way> Flow::weak_way(NodeId node, Sign sign, BranchId without) const {
    Reached by(like(circuit_.nodes));
    const NodeSet has = weak(shown(), sign, Asked{without, {}, {}}, &by);
    return back(node, sign, has, by);
}

template <class Counts>
std::optional<Way> Flow::lead(NodeId from, NodeId to, const Counts& counts) const {
    NodeSet has(like(circuit_.nodes));
    Reached by(like(circuit_.nodes));
    has[from] = true;
    spread(has, &by, Sign::plus, in_series() ? Sources::pass : Sources::stop,
           [&](BranchId b, NodeId) { return !b || (is_copper(b) && counts(b)); });
    return back(to, Sign::plus, has, by);
}

std::optional<Way> Flow::dead_short(NodeId node) const {
    for (const SourceId s : circuit_.sources.ids()) {
        if (!dead_[s]) continue;
        const Source& source = circuit_.sources[s];
        if (!lead(source.plus, node, [](BranchId) { return true; })) continue;
        return lead(source.plus, source.minus, [&](BranchId b) { return branch(b).kind != BranchKind::fuse; });
    }
    return std::nullopt;
}

std::optional<Way> Flow::short_through(BranchId fuse) const {
    const Branch& f = branch(fuse);
    const auto others = [&](BranchId b) { return b != fuse; };
    for (const SourceId s : circuit_.sources.ids())
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

void Flow::turn_to(BranchId branch) {
    shown_ = 0;
    for (std::size_t r = 1; r < returns_.size(); ++r)
        if (works(returns_[r], branch).may && !works(returns_[shown_], branch).must) shown_ = r;
}

Fed Flow::has(const Return& r, Sign sign, NodeId node) const {
    if ((sign == Sign::plus ? r.plus : r.ground)[node]) return {true, true};
    return {false, weak(r, sign)[node]};
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

Fed Flow::has_plus(NodeId node) const {
    return by_any([&](const Return& r) { return has(r, Sign::plus, node); });
}

Fed Flow::is_grounded(NodeId node) const { return has(returns_.front(), Sign::ground, node); }

Fed Flow::input_has_plus(NodeId node) const {
    const NodeId own = circuit_.supply_minus ? circuit_.supply_minus : ground_node;
    return by_any([&](const Return& r) { return both(has(r, Sign::plus, node), has(r, Sign::ground, own)); });
}

Fed Flow::input_is_grounded(NodeId node) const {
    const NodeId own = circuit_.supply_minus ? circuit_.supply_minus : ground_node;
    const Fed by_return = by_any([&](const Return& r) {
        const Fed ground = has(r, Sign::ground, node);
        return Fed{ground.must && r.up[own], ground.may && has(r, Sign::ground, own).may};
    });
    const bool may = circuit_.supply_plus ? is_fed(circuit_.supply_plus, node).may : by_return.may;
    return {by_return.must, by_return.must || may};
}

Fed Flow::is_stopped(NodeId lead) const {
    const Return& r = returns_.front();
    if (r.ground[lead] && r.up[lead]) return {true, true};
    NodeSet from_chassis(like(circuit_.nodes));
    from_chassis[ground_node] = true;
    spread(from_chassis, nullptr, Sign::plus, Sources::pass, [&](BranchId b, NodeId) { return lets_pass(b); });
    return {false, from_chassis[lead] || is_grounded(lead).may || has_plus(lead).may};
}

Fed Flow::is_fed(NodeId plus, NodeId minus) const {
    return by_any([&](const Return& r) { return both(has(r, Sign::plus, plus), has(r, Sign::ground, minus)); });
}

Fed Flow::works(BranchId branch) const {
    if (!closed(branch)) return {};
    return by_any([&](const Return& r) { return works(r, branch); });
}

Fed Flow::works(const Return& r, BranchId branch) const {
    const Branch& b = circuit_.branches[branch];
    const auto sure = [&](NodeId from, NodeId to) { return r.plus[from] && r.ground[to]; };
    if (sure(b.from, b.to) || (!b.polar && sure(b.to, b.from))) return {true, true};
    const auto possible = [&](NodeId from, NodeId to) {
        // Without the branch there is less.
        if (!weak(r, Sign::plus)[from] || !weak(r, Sign::ground)[to]) return false;
        const Asked asked{branch, from, to};
        return weak(r, Sign::plus, asked)[from] && weak(r, Sign::ground, asked)[to];
    };
    return {false, possible(b.from, b.to) || (!b.polar && possible(b.to, b.from))};
}

}  // namespace lanyard::circuit
