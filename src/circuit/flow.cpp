#include "circuit/flow.hpp"
#include "base/slot.hpp"

#include <algorithm>

namespace lanyard {

namespace {

Fed both(const Fed& a, const Fed& b) { return {a.must && b.must, a.may && b.may}; }

}  // namespace

Flow::Flow(const Circuit& circuit, std::vector<bool> closed, std::vector<bool> both_ways, std::vector<bool> live)
    : circuit_(circuit), closed_(std::move(closed)), both_ways_(std::move(both_ways)), live_(std::move(live)) {
    returns_.push_back(levels(0));
    for (const int root : returns_of(circuit))
        if (root != 0 && !returns_.front().hard[slot(root)]) returns_.push_back(levels(root));
}

Flow::Return Flow::levels(int root) const {
    Return r;
    r.root = root;
    r.plus.resize(circuit_.nodes.size());
    r.hard = r.plus;
    r.hard[slot(root)] = true;
    r.ground_by.assign(circuit_.nodes.size(), -1);
    r.plus_by = r.source_at = r.ground_by;
    spread(r.hard, &r.ground_by, Sign::ground,
           [&](int b, int) { return !is_consumer(branch(b)) && branch(b).kind != BranchKind::fuse; });
    for (std::size_t s = 0; s < circuit_.sources.size(); ++s) {
        const Source& source = circuit_.sources[s];
        if (!live_[s] || !r.hard[slot(source.minus)]) continue;
        r.plus[slot(source.plus)] = true;
        if (r.source_at[slot(source.plus)] < 0) r.source_at[slot(source.plus)] = static_cast<int>(s);
    }
    spread(r.plus, &r.plus_by, Sign::plus,
           [&](int b, int node) { return node != root && !is_consumer(branch(b)) && !blows(r, b, node, Sign::plus); });
    r.ground = r.hard;
    spread(r.ground, &r.ground_by, Sign::ground,
           [&](int b, int node) { return !is_consumer(branch(b)) && !blows(r, b, node, Sign::ground); });
    return r;
}

bool Flow::passes(int b, int here, Sign sign) const {
    return both_ways_[slot(b)] || passes_diode(branch(b), here, sign);
}

bool Flow::leads(int b, int here, Sign sign) const { return !is_consumer(branch(b)) && passes(b, here, sign); }

bool Flow::blows(const Return& r, int b, int there, Sign sign) const {
    return branch(b).kind == BranchKind::fuse && (sign == Sign::plus ? r.hard : r.plus)[slot(there)];
}

template <class Into>
void Flow::spread(NodeSet& has, Reached* by, Sign sign, const Into& into) const {
    lanyard::spread(circuit_, circuit_.at, has, [&](int b, int here, int there) {
        if (!closed_[slot(b)] || !passes(b, here, sign) || !into(b, there)) return false;
        if (by) (*by)[slot(there)] = b;
        return true;
    });
}

NodeSet Flow::weak(const Return& r, Sign sign, int without, Reached* by) const {
    NodeSet has = sign == Sign::plus ? r.plus : r.ground;
    const NodeSet& held = sign == Sign::plus ? r.ground : r.plus;
    const auto enters = [&](int b, int node) {
        return b != without && !held[slot(node)] && (!is_consumer(branch(b)) || branch(b).lets_through);
    };
    for (bool more = true; more;) {
        spread(has, by, sign, enters);
        more = false;
        for (const Source& s : circuit_.sources) {
            const auto here = slot(sign == Sign::plus ? s.minus : s.plus),
                       there = slot(sign == Sign::plus ? s.plus : s.minus);
            if (s.minus == r.root || !has[here] || has[there] || held[there]) continue;
            has[there] = more = true;
        }
    }
    return has;
}

const NodeSet& Flow::weak(const Return& r, Sign sign) const {
    auto& known = sign == Sign::plus ? r.weak_plus : r.weak_ground;
    if (known.empty()) known = weak(r, sign, -1);
    return known;
}

std::optional<Way> Flow::back(int node, Sign sign, const NodeSet& has, const Reached& by) const {
    if (!has[slot(node)]) return std::nullopt;
    Way way;
    for (int b = by[slot(node)]; b >= 0; b = by[slot(node)]) {
        way.branches.push_back(b);
        node = branch(b).from == node ? branch(b).to : branch(b).from;
    }
    way.begin = node;
    if (sign == Sign::plus) {
        way.source = shown().source_at[slot(node)];
        for (std::size_t s = 0; way.source < 0 && s < circuit_.sources.size(); ++s)
            if (circuit_.sources[s].plus == node) way.source = static_cast<int>(s);  // by way of its other end
    }
    std::reverse(way.branches.begin(), way.branches.end());
    return way;
}

std::optional<Way> Flow::way(int node, Sign sign) const {
    const Return& r = shown();
    return sign == Sign::plus ? back(node, sign, r.plus, r.plus_by) : back(node, sign, r.ground, r.ground_by);
}

std::optional<Way> Flow::weak_way(int node, Sign sign, int without) const {
    Reached by = sign == Sign::plus ? shown().plus_by : shown().ground_by;
    const NodeSet has = weak(shown(), sign, without, &by);
    return back(node, sign, has, by);
}

void Flow::turn_to(int branch) {
    shown_ = 0;
    for (std::size_t r = 1; r < returns_.size(); ++r)
        if (works(returns_[r], branch).may && !works(returns_[shown_], branch).must) shown_ = r;
}

bool Flow::surely(const Return& r, Sign sign, int node) {
    const bool p = r.plus[slot(node)], g = r.ground[slot(node)];
    return sign == Sign::plus ? p && !g : g && !p;
}

Fed Flow::has(const Return& r, Sign sign, int node) const {
    if (surely(r, sign, node)) return {true, true};
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

Fed Flow::as_seen(int node, Sign sign) const {
    const int own = circuit_.supply_minus;
    if (returns_.size() == 1 || own < 0) return sign == Sign::plus ? has_plus(node) : is_grounded(node);
    return by_any([&](const Return& r) { return both(has(r, sign, node), has(r, Sign::ground, own)); });
}

Fed Flow::is_fed(int plus, int minus) const {
    return by_any([&](const Return& r) { return both(has(r, Sign::plus, plus), has(r, Sign::ground, minus)); });
}

Fed Flow::field_is_fed(int source) const {
    const Source& s = circuit_.sources[slot(source)];
    return by_any([&](const Return& r) { return r.hard[slot(s.minus)] ? has(r, Sign::plus, s.field_node) : Fed{}; });
}

Fed Flow::works(int branch) const {
    if (!closed(branch)) return {};
    return by_any([&](const Return& r) { return works(r, branch); });
}

Fed Flow::works(const Return& r, int branch) const {
    const Branch& b = circuit_.branches[slot(branch)];
    const auto sure = [&](int from, int to) { return surely(r, Sign::plus, from) && surely(r, Sign::ground, to); };
    if (sure(b.from, b.to) || (!b.polar && sure(b.to, b.from))) return {true, true};
    const auto possible = [&](const NodeSet& plus, const NodeSet& ground) {
        const auto between = [&](int from, int to) { return plus[slot(from)] && ground[slot(to)]; };
        return between(b.from, b.to) || (!b.polar && between(b.to, b.from));
    };
    // Without the branch there is less.
    if (!possible(weak(r, Sign::plus), weak(r, Sign::ground))) return {};
    return {false, possible(weak(r, Sign::plus, branch), weak(r, Sign::ground, branch))};
}

}  // namespace lanyard
