#include "circuit/flow.hpp"
#include "base/slot.hpp"

#include <algorithm>

namespace lanyard {

Flow::Flow(const Circuit& circuit, std::vector<bool> closed, std::vector<bool> both_ways, const std::vector<bool>& live)
    : circuit_(circuit),
      closed_(std::move(closed)),
      both_ways_(std::move(both_ways)),
      at_(lanyard::branches_at(circuit)),
      plus_(circuit.nodes.size()) {
    hard_.resize(circuit_.nodes.size());
    hard_[0] = true;
    ground_by_.assign(circuit_.nodes.size(), -1);
    plus_by_ = source_at_ = ground_by_;
    spread(hard_, ground_by_, Sign::ground,
           [&](int b, int) { return !is_consumer(branch(b)) && branch(b).kind != BranchKind::fuse; });
    for (std::size_t s = 0; s < circuit_.sources.size(); ++s) {
        const Source& source = circuit_.sources[s];
        if (!live[s] || !hard_ground(source.minus)) continue;
        plus_[slot(source.plus)] = true;
        if (source_at_[slot(source.plus)] < 0) source_at_[slot(source.plus)] = static_cast<int>(s);
    }
    spread(plus_, plus_by_, Sign::plus,
           [&](int b, int node) { return node != 0 && !is_consumer(branch(b)) && !blows(b, node, Sign::plus); });
    ground_ = hard_;
    spread(ground_, ground_by_, Sign::ground,
           [&](int b, int node) { return !is_consumer(branch(b)) && !blows(b, node, Sign::ground); });
}

bool Flow::passes(int b, int here, Sign sign) const {
    return both_ways_[slot(b)] || passes_diode(branch(b), here, sign);
}

bool Flow::leads(int b, int here, Sign sign) const { return !is_consumer(branch(b)) && passes(b, here, sign); }

bool Flow::blows(int b, int there, Sign sign) const {
    return branch(b).kind == BranchKind::fuse && (sign == Sign::plus ? hard_ground(there) : plus(there));
}

void Flow::spread(NodeSet& has, Reached& by, Sign sign, const std::function<bool(int, int)>& into) const {
    lanyard::spread(circuit_, at_, has, [&](int b, int here, int there) {
        if (!closed_[slot(b)] || !passes(b, here, sign) || !into(b, there)) return false;
        by[slot(there)] = b;
        return true;
    });
}

NodeSet Flow::weak(Sign sign, int without) const {
    Reached by(circuit_.nodes.size(), -1);
    return weak(sign, without, by);
}

NodeSet Flow::weak(Sign sign, int without, Reached& by) const {
    NodeSet has = sign == Sign::plus ? plus_ : ground_;
    const NodeSet& held = sign == Sign::plus ? ground_ : plus_;
    spread(has, by, sign, [&](int b, int node) {
        return b != without && !held[slot(node)] && (!is_consumer(branch(b)) || branch(b).lets_through);
    });
    return has;
}

std::optional<Way> Flow::back(int node, Sign sign, const NodeSet& has, const Reached& by) const {
    if (!has[slot(node)]) return std::nullopt;
    Way way;
    for (int b = by[slot(node)]; b >= 0; b = by[slot(node)]) {
        way.branches.push_back(b);
        node = branch(b).from == node ? branch(b).to : branch(b).from;
    }
    if (sign == Sign::plus) way.source = source_at_[slot(node)];
    std::reverse(way.branches.begin(), way.branches.end());
    return way;
}

std::optional<Way> Flow::way(int node, Sign sign) const {
    return back(node, sign, sign == Sign::plus ? plus_ : ground_, sign == Sign::plus ? plus_by_ : ground_by_);
}

std::optional<Way> Flow::weak_way(int node, Sign sign, int without) const {
    Reached by = sign == Sign::plus ? plus_by_ : ground_by_;
    const NodeSet has = weak(sign, without, by);
    return back(node, sign, has, by);
}

bool Flow::surely(int node, Sign sign) const {
    const bool p = plus(node), g = ground(node);
    return sign == Sign::plus ? p && !g : g && !p;
}

Fed Flow::has_plus(int node) const { return {surely(node, Sign::plus), weak(Sign::plus, -1)[slot(node)]}; }

Fed Flow::is_grounded(int node) const { return {surely(node, Sign::ground), weak(Sign::ground, -1)[slot(node)]}; }

Fed Flow::is_fed(int plus, int minus) const {
    return {surely(plus, Sign::plus) && surely(minus, Sign::ground),
            weak(Sign::plus, -1)[slot(plus)] && weak(Sign::ground, -1)[slot(minus)]};
}

Fed Flow::works(int branch) const {
    const Branch& b = circuit_.branches[slot(branch)];
    if (!closed(branch)) return {};
    const NodeSet plus = weak(Sign::plus, branch), ground = weak(Sign::ground, branch);
    Fed a;
    a.must = surely(b.from, Sign::plus) && surely(b.to, Sign::ground);
    a.may = plus[slot(b.from)] && ground[slot(b.to)];
    if (b.polar) return a;
    a.must = a.must || (surely(b.to, Sign::plus) && surely(b.from, Sign::ground));
    a.may = a.may || (plus[slot(b.to)] && ground[slot(b.from)]);
    return a;
}

}  // namespace lanyard
