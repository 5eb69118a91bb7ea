#include "circuit/gap.hpp"

#include <algorithm>
#include <functional>
#include <queue>

namespace lanyard::circuit {

namespace {

class Search {
 public:
    Search(const Circuit& c, const Flow& flow, Sign sign, BranchId without, bool weak)
        : c_(c), flow_(flow), sign_(sign), without_(without), weak_(weak), nodes_(like(c.nodes)) {}

    // The node is where a way may begin, with so much in the way already, and as if behind so many branches.
    void begin_at(NodeId node, std::size_t in_the_way, std::size_t branches = 0) {
        offer(node, {in_the_way, branches}, {});
    }
    void no_fuses() { fuses_ = false; }

    void run() {
        while (!open_.empty()) {
            const auto [price, here] = open_.top();
            open_.pop();
            if (nodes_[here].done) continue;
            nodes_[here].done = true;
            for (const BranchId b : flow_.branches_at(here)) step(here, b);
        }
    }

    bool reached(NodeId node) const { return nodes_[node].done; }
    std::size_t price(NodeId node) const { return nodes_[node].price.first; }
    // The way to the node; returns where it begins.
    NodeId way(NodeId node, Gap& out) const {
        for (BranchId b = nodes_[node].by; b; b = nodes_[node].by) {
            out.way.push_back(b);
            if (hinders(b)) out.in_the_way.push_back(b);
            node = other_end(c_.branches[b], node);
        }
        std::reverse(out.way.begin(), out.way.end());
        std::reverse(out.in_the_way.begin(), out.in_the_way.end());
        return node;
    }

 private:
    using Price = std::pair<std::size_t, std::size_t>;  // things in the way, branches
    struct At {
        Price price;
        BranchId by;
        bool known = false, done = false;
    };

    bool hinders(BranchId b) const { return !flow_.closed(b) || flow_.blows(b); }

    void step(NodeId here, BranchId b) {
        const Branch& branch = c_.branches[b];
        const bool through = weak_ && is_consumer(branch) && branch.lets_through;
        if (b == without_ || (!through && !flow_.leads(b, here, sign_))) return;
        if (branch.kind == BranchKind::fuse && !fuses_) return;
        // A short that is not there is none that ought to be.
        if (branch.kind == BranchKind::stray && !flow_.closed(b)) return;
        const NodeId there = other_end(branch, here);
        const Price& so_far = nodes_[here].price;
        offer(there, {so_far.first + (hinders(b) ? 1 : 0), so_far.second + 1}, b);
    }

    void offer(NodeId node, const Price& price, BranchId by) {
        At& a = nodes_[node];
        if (a.done || (a.known && a.price <= price)) return;
        a.price = price;
        a.by = by;
        a.known = true;
        open_.push({price, node});
    }

    const Circuit& c_;
    const Flow& flow_;
    Sign sign_;
    BranchId without_;
    bool weak_;
    bool fuses_ = true;
    Indexed<Node, At> nodes_;
    using Entry = std::pair<Price, NodeId>;
    std::priority_queue<Entry, std::vector<Entry>, std::greater<>> open_;
};

}  // namespace

std::optional<Gap> gap(const Circuit& c, const Flow& flow, const Indexed<Source, bool>& live, NodeId node, Sign sign,
                       BranchId without, bool weak) {
    Search search(c, flow, sign, without, weak);
    if (sign == Sign::ground) {
        search.begin_at(ground_node, 0);
        search.run();
        if (!search.reached(node)) return std::nullopt;
        Gap out;
        search.way(node, out);
        return out;
    }
    Search hard(c, flow, Sign::ground, {}, false);
    hard.no_fuses();
    hard.begin_at(ground_node, 0);
    hard.run();
    const auto price = [&](SourceId s) { return (live[s] ? 0 : 1) + hard.price(c.sources[s].minus); };
    for (const SourceId s : c.sources.ids())
        if (hard.reached(c.sources[s].minus))
            search.begin_at(c.sources[s].plus, price(s), live[s] ? 0 : c.branches.size());
    search.run();
    if (!search.reached(node)) return std::nullopt;
    Gap out;
    const NodeId begin = search.way(node, out);
    for (const SourceId s : c.sources.ids()) {
        if (c.sources[s].plus != begin || !hard.reached(c.sources[s].minus)) continue;
        if (out.source && price(s) >= price(out.source)) continue;
        out.source = s;
    }
    out.gives_nothing = !live[out.source];
    Gap minus;
    hard.way(c.sources[out.source].minus, minus);
    out.ungrounded = minus.in_the_way;
    return out;
}

}  // namespace lanyard::circuit
