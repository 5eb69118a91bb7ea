#include "circuit/net.hpp"

#include <algorithm>

namespace lanyard::circuit {

namespace {

constexpr long most_steps = 20'000'000;

bool always(BranchId /*branch*/) { return true; }

}  // namespace

Net::Net(const Model& model) : m_(model), left_(most_steps) {
    plus_of_sources_ = chassis_ = feeders_ = none();
    chassis_[ground_node] = true;
    for (const auto& s : circuit().sources) {
        plus_of_sources_[s.plus] = true;
        if (is_battery(s)) feeders_[s.plus] = true;
    }
    const NodeSet batteries = feeders_;
    if (std::find(feeders_.begin(), feeders_.end(), true) == feeders_.end()) feeders_ = plus_of_sources_;
    ends_ = plus_of_sources_;
    ends_[ground_node] = true;
    held_ground_ = reach(chassis_, Sign::ground, none(), [this](BranchId b) { return is_bare(branch(b)); });
    held_plus_ = reach(batteries, Sign::plus, held_ground_, [this](BranchId b) { return is_always(branch(b)); });
    strong_plus_ = reach(Sign::plus, always);
    strong_ground_ = reach(Sign::ground, always);
}

bool Net::is_upper(const Branch& b) const {
    return b.kind == BranchKind::output && b.from == circuit().supply_plus && b.makes;
}

bool Net::is_always(const Branch& b) { return is_bare(b) || b.kind == BranchKind::fuse || b.kind == BranchKind::diode; }

bool Net::is_bare(const Branch& b) { return b.kind == BranchKind::wire || b.kind == BranchKind::terminal; }

bool Net::has_no_limit(const Branch& b) {
    return !is_consumer(b) && b.kind != BranchKind::fuse && b.kind != BranchKind::output;
}

NodeSet Net::only(NodeId node) const {
    NodeSet one = none();
    if (node) one[node] = true;
    return one;
}

NodeSet Net::reach(const NodeSet& start, Sign sign, const NodeSet& held, const Passes& passes) const {
    NodeSet has = start;
    if (budget_exhausted()) return has;
    left_ -= std::ssize(has);
    spread(circuit(), has, [&](BranchId b, NodeId here, NodeId there) {
        --left_;
        const Branch& x = branch(b);
        if (held[there] || x.kind == BranchKind::stray || !passes_diode(x, here, sign)) return false;
        if (x.kind == BranchKind::output &&
            (is_upper(x) ? sign != Sign::plus || here != x.from : sign != Sign::ground || here != x.to))
            return false;
        return passes(b);
    });
    return has;
}

NodeSet Net::reach(Sign sign, const Passes& passes) const {
    const Sign other = sign == Sign::plus ? Sign::ground : Sign::plus;
    return reach(starts(sign), sign, held(other), [&](BranchId b) { return !is_consumer(branch(b)) && passes(b); });
}

}  // namespace lanyard::circuit
