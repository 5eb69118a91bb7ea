#include "circuit/flow.hpp"

namespace lanyard {

namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

}  // namespace

Flow::Flow(const Circuit& circuit, std::vector<bool> closed, std::vector<bool> both_ways, const std::vector<bool>& live)
    : circuit_(circuit),
      closed_(std::move(closed)),
      both_ways_(std::move(both_ways)),
      at_(branches_at(circuit)),
      plus_(circuit.nodes.size()) {
    const auto branch = [this](int b) -> const Branch& { return circuit_.branches[at(b)]; };
    NodeSet hard(circuit_.nodes.size());
    hard[0] = true;
    spread(hard, Sign::ground,
           [&](int b, int) { return !is_consumer(branch(b)) && branch(b).kind != BranchKind::fuse; });
    for (std::size_t s = 0; s < circuit_.sources.size(); ++s)
        if (live[s] && hard[at(circuit_.sources[s].minus)]) plus_[at(circuit_.sources[s].plus)] = true;
    spread(plus_, Sign::plus, [&](int b, int node) {
        return !is_consumer(branch(b)) && (branch(b).kind != BranchKind::fuse || !hard[at(node)]);
    });
    ground_ = hard;
    spread(ground_, Sign::ground, [&](int b, int node) {
        return !is_consumer(branch(b)) && (branch(b).kind != BranchKind::fuse || !plus_[at(node)]);
    });
}

void Flow::spread(NodeSet& has, Sign sign, const std::function<bool(int, int)>& into) const {
    lanyard::spread(circuit_, at_, has, [&](int b, int here, int there) {
        const Branch& branch = circuit_.branches[at(b)];
        return closed_[at(b)] && (both_ways_[at(b)] || passes_diode(branch, here, sign)) && into(b, there);
    });
}

NodeSet Flow::weak(Sign sign, int without) const {
    NodeSet has = sign == Sign::plus ? plus_ : ground_;
    const NodeSet& held = sign == Sign::plus ? ground_ : plus_;
    spread(has, sign, [&](int b, int node) {
        const Branch& branch = circuit_.branches[at(b)];
        return b != without && !held[at(node)] && (!is_consumer(branch) || branch.lets_through);
    });
    return has;
}

bool Flow::surely(int node, Sign sign) const {
    const bool p = plus(node), g = ground(node);
    return sign == Sign::plus ? p && !g : g && !p;
}

Fed Flow::has_plus(int node) const { return {surely(node, Sign::plus), weak(Sign::plus, -1)[at(node)]}; }

Fed Flow::is_grounded(int node) const { return {surely(node, Sign::ground), weak(Sign::ground, -1)[at(node)]}; }

Fed Flow::is_fed(int plus, int minus) const {
    return {surely(plus, Sign::plus) && surely(minus, Sign::ground),
            weak(Sign::plus, -1)[at(plus)] && weak(Sign::ground, -1)[at(minus)]};
}

Fed Flow::works(int branch) const {
    const Branch& b = circuit_.branches[at(branch)];
    if (!closed(branch)) return {};
    const NodeSet plus = weak(Sign::plus, branch), ground = weak(Sign::ground, branch);
    Fed a;
    a.must = surely(b.from, Sign::plus) && surely(b.to, Sign::ground);
    a.may = plus[at(b.from)] && ground[at(b.to)];
    if (b.polar) return a;
    a.must = a.must || (surely(b.to, Sign::plus) && surely(b.from, Sign::ground));
    a.may = a.may || (plus[at(b.to)] && ground[at(b.from)]);
    return a;
}

}  // namespace lanyard
