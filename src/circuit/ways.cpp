#include "circuit/ways.hpp"
#include "base/slot.hpp"

#include <algorithm>

namespace lanyard {

Ways::Ways(const Net& net, NodeSet more_ends)
    : net_(net), ends_(net.ends()), up_(net.circuit().nodes.size(), -1), cut_(net.circuit().branches.size()) {
    for (std::size_t n = 0; n < more_ends.size(); ++n) ends_[n] = ends_[n] || more_ends[n];
    cut_leaves();
}

bool Ways::is_held(int node) const { return net_.held(Sign::plus)[slot(node)] || net_.held(Sign::ground)[slot(node)]; }

bool Ways::counts(int branch, int node) const {
    const Branch& b = net_.branch(branch);
    if (is_consumer(b) || b.kind == BranchKind::stray) return false;
    if (!is_held(node)) return true;
    const int other = other_end(b, node);
    const auto both = [&](Sign sign) { return net_.held(sign)[slot(node)] && net_.held(sign)[slot(other)]; };
    return (Net::is_bare(b) && both(Sign::ground)) || (Net::is_always(b) && both(Sign::plus));
}

void Ways::cut_leaves() {
    std::vector<int> degree(up_.size()), leaves;
    const auto is_open = [&](int b, int n) { return counts(b, n) && !cut_[slot(b)]; };
    for (std::size_t n = 0; n < degree.size(); ++n) {
        for (const int b : net_.at(static_cast<int>(n))) degree[n] += counts(b, static_cast<int>(n)) ? 1 : 0;
        if (degree[n] == 1) leaves.push_back(static_cast<int>(n));
    }
    while (!leaves.empty()) {
        const int n = leaves.back();
        leaves.pop_back();
        if (ends_[slot(n)] || up_[slot(n)] >= 0 || degree[slot(n)] != 1) continue;
        for (const int b : net_.at(n)) {
            if (!is_open(b, n)) continue;
            const int other = other_end(net_.branch(b), n);
            if (counts(b, other) && --degree[slot(other)] == 1) leaves.push_back(other);
            up_[slot(n)] = b;
            cut_[slot(b)] = true;
            degree[slot(n)] = 0;
            break;
        }
    }
}

void Ways::follow(int node, NodeSet& seen, const std::function<void(int)>& pass,
                  const std::function<void(int)>& visit) const {
    std::vector<int> open;
    const auto enter = [&](int n) {
        if (n < 0 || seen[slot(n)]) return;
        seen[slot(n)] = true;
        visit(n);
        open.push_back(n);
    };
    enter(node);
    while (!open.empty()) {
        const int n = open.back();
        open.pop_back();
        net_.spend(net_.at(n).size());
        for (const int b : net_.at(n)) {
            const bool on = up_[slot(n)] >= 0 ? b == up_[slot(n)] : counts(b, n) && !cut_[slot(b)];
            if (!on) continue;
            pass(b);
            enter(other_end(net_.branch(b), n));
        }
    }
}

std::vector<int> Ways::of(int node) const {
    std::vector<int> all;
    NodeSet seen = net_.none();
    net_.spend(seen.size() / 8);
    follow(
        node, seen, [&](int b) { all.push_back(b); }, [](int) {});
    std::sort(all.begin(), all.end());
    all.erase(std::unique(all.begin(), all.end()), all.end());
    return all;
}

}  // namespace lanyard
