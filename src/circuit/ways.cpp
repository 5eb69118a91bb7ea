#include "circuit/ways.hpp"

#include <algorithm>

namespace lanyard::circuit {

Ways::Ways(const Net& net, NodeSet more_ends)
    : net_(net), ends_(net.ends()), up_(like(net.circuit().nodes)), cut_(like(net.circuit().branches)) {
    for (const NodeId n : more_ends.ids()) ends_[n] = ends_[n] || more_ends[n];
    cut_leaves();
}

bool Ways::is_held(NodeId node) const { return net_.held(Sign::plus)[node] || net_.held(Sign::ground)[node]; }

bool Ways::counts(BranchId branch, NodeId node) const {
    const Branch& b = net_.branch(branch);
    if (is_consumer(b) || b.kind == BranchKind::stray) return false;
    if (!is_held(node)) return true;
    const NodeId other = other_end(b, node);
    const auto both = [&](Sign sign) { return net_.held(sign)[node] && net_.held(sign)[other]; };
    return (Net::is_bare(b) && both(Sign::ground)) || (Net::is_always(b) && both(Sign::plus));
}

void Ways::cut_leaves() {
    Indexed<Node, int> degree(like(up_));
    std::vector<NodeId> leaves;
    const auto is_open = [&](BranchId b, NodeId n) { return counts(b, n) && !cut_[b]; };
    for (const NodeId n : degree.ids()) {
        for (const BranchId b : net_.at(n)) degree[n] += counts(b, n) ? 1 : 0;
        if (degree[n] == 1) leaves.push_back(n);
    }
    while (!leaves.empty()) {
        const NodeId n = leaves.back();
        leaves.pop_back();
        if (ends_[n] || up_[n] || degree[n] != 1) continue;
        for (const BranchId b : net_.at(n)) {
            if (!is_open(b, n)) continue;
            const NodeId other = other_end(net_.branch(b), n);
            if (counts(b, other) && --degree[other] == 1) leaves.push_back(other);
            up_[n] = b;
            cut_[b] = true;
            degree[n] = 0;
            break;
        }
    }
}

void Ways::follow(NodeId node, NodeSet& seen, const std::function<void(BranchId)>& pass,
                  const std::function<void(NodeId)>& visit) const {
    std::vector<NodeId> open;
    const auto enter = [&](NodeId n) {
        if (!n || seen[n]) return;
        seen[n] = true;
        visit(n);
        open.push_back(n);
    };
    enter(node);
    while (!open.empty()) {
        const NodeId n = open.back();
        open.pop_back();
        net_.spend(net_.at(n).size());
        for (const BranchId b : net_.at(n)) {
            const bool on = up_[n] ? b == up_[n] : counts(b, n) && !cut_[b];
            if (!on) continue;
            pass(b);
            enter(other_end(net_.branch(b), n));
        }
    }
}

std::vector<BranchId> Ways::of(NodeId node) const {
    std::vector<BranchId> all;
    NodeSet seen = net_.none();
    net_.spend(seen.size() / 8);
    follow(
        node, seen, [&](BranchId b) { all.push_back(b); }, [](NodeId) {});
    std::sort(all.begin(), all.end());
    all.erase(std::unique(all.begin(), all.end()), all.end());
    return all;
}

}  // namespace lanyard::circuit
