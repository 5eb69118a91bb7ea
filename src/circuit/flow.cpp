#include "circuit/flow.hpp"

namespace lanyard {

namespace {

bool is_consumer(const Branch& b) { return b.kind == BranchKind::load || b.kind == BranchKind::coil; }

std::size_t at(int i) { return static_cast<std::size_t>(i); }

}  // namespace

Flow::Flow(const Circuit& circuit, std::vector<bool> closed, std::vector<bool> both_ways, const std::vector<bool>& live)
    : circuit_(circuit),
      closed_(std::move(closed)),
      both_ways_(std::move(both_ways)),
      at_(circuit.nodes.size()),
      plus_(circuit.nodes.size()) {
    for (std::size_t b = 0; b < circuit_.branches.size(); ++b) {
        at_[at(circuit_.branches[b].from)].push_back(static_cast<int>(b));
        at_[at(circuit_.branches[b].to)].push_back(static_cast<int>(b));
    }
    const auto branch = [this](int b) -> const Branch& { return circuit_.branches[at(b)]; };
    Nodes hard(circuit_.nodes.size());
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

void Flow::spread(Nodes& has, Sign sign, const std::function<bool(int, int)>& into) const {
    std::vector<int> open;
    for (std::size_t n = 0; n < has.size(); ++n)
        if (has[n]) open.push_back(static_cast<int>(n));
    while (!open.empty()) {
        const int here = open.back();
        open.pop_back();
        for (const int b : at_[at(here)]) {
            const Branch& branch = circuit_.branches[at(b)];
            const int there = branch.from == here ? branch.to : branch.from;
            const bool forwards = branch.from == here;
            const bool passes =
                branch.kind != BranchKind::diode || both_ways_[at(b)] || forwards == (sign == Sign::plus);
            if (!closed_[at(b)] || !passes || has[at(there)] || !into(b, there)) continue;
            has[at(there)] = true;
            open.push_back(there);
        }
    }
}

Flow::Nodes Flow::weak(Sign sign, int without) const {
    Nodes has = sign == Sign::plus ? plus_ : ground_;
    const Nodes& held = sign == Sign::plus ? ground_ : plus_;
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
    const Nodes plus = weak(Sign::plus, branch), ground = weak(Sign::ground, branch);
    Fed a;
    a.must = surely(b.from, Sign::plus) && surely(b.to, Sign::ground);
    a.may = plus[at(b.from)] && ground[at(b.to)];
    if (b.polar) return a;
    a.must = a.must || (surely(b.to, Sign::plus) && surely(b.from, Sign::ground));
    a.may = a.may || (plus[at(b.to)] && ground[at(b.from)]);
    return a;
}

}  // namespace lanyard
