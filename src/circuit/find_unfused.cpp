// Wires between a battery and something that it feeds with no fuse on the way; batteries that are joined for good.
//
// The wires told are those on a way from the battery's plus, through anything that conducts when closed except fuses
// and power stages, to a load, a coil or a pin of the controller. What only leads on to fuses is left out: a fuse
// stands at the end of some wire.
// Tested by: tests/findings/wires_test.cpp
#include "circuit/find.hpp"
#include "circuit/part_words.hpp"

namespace lanyard::circuit {

namespace {

class Unfused {
 public:
    Unfused(const Net& net, const Source& source)
        : net_(net),
          source_(source.plus),
          here_(net.reach(net.only(source.plus), Sign::plus, net.held(Sign::ground),
                          [&](BranchId b) { return Net::has_no_limit(net.branch(b)); })),
          sink_(net.none()),
          degree_(like(here_)) {
        find_sinks();
        cut_dead_ends();
    }

    std::vector<BranchId> wires() const {
        std::vector<BranchId> all;
        for (const BranchId b : net_.branches())
            if (net_.branch(b).kind == BranchKind::wire && counts(b) && alive(b)) all.push_back(b);
        return all;
    }
    const std::vector<std::string>& fed() const { return fed_; }

 private:
    const Net& net_;
    NodeId source_;
    NodeSet here_, sink_;
    Indexed<Node, int> degree_;
    std::vector<std::string> fed_;

    bool counts(BranchId b) const {
        return net_.branch(b).kind != BranchKind::stray && Net::has_no_limit(net_.branch(b));
    }
    bool alive(BranchId b) const { return here_[net_.branch(b).from] && here_[net_.branch(b).to]; }

    void mark(NodeId node, const std::string& name) {
        if (!node || !here_[node]) return;
        sink_[node] = true;
        fed_.push_back(name);
    }

    void find_sinks() {
        for (const BranchId b : net_.branches()) {
            const Branch& x = net_.branch(b);
            if (!is_consumer(x)) continue;
            const NodeId near = here_[x.from] ? x.from : x.to;
            mark(near, name_of_part(x));
        }
        mark(net_.circuit().supply_plus, "the controller");
        for (const auto& i : net_.model().wired_inputs) mark(i.node, "`" + net_.model().name_of(i.signal) + "`");
    }

    void cut_dead_ends() {
        std::vector<NodeId> leaves;
        for (const NodeId n : here_.ids()) {
            if (!here_[n]) continue;
            for (const BranchId b : net_.at(n)) degree_[n] += counts(b) && alive(b) ? 1 : 0;
            leaves.push_back(n);
        }
        while (!leaves.empty()) {
            const NodeId n = leaves.back();
            leaves.pop_back();
            if (n == source_ || sink_[n] || !here_[n] || degree_[n] > 1) continue;
            for (const BranchId b : net_.at(n)) {
                if (!counts(b) || !alive(b)) continue;
                const NodeId other = other_end(net_.branch(b), n);
                --degree_[other];
                leaves.push_back(other);
            }
            here_[n] = false;
        }
    }
};

}  // namespace

void find_unfused(const Net& net, Findings& out) {
    for (const auto& s : net.circuit().sources) {
        if (!is_battery(s) || net.budget_exhausted()) continue;
        const Unfused unfused(net, s);
        const std::vector<BranchId> wires = unfused.wires();
        if (wires.empty()) continue;
        std::vector<std::string> names;
        for (const BranchId w : wires) names.push_back(name_of_part(net.branch(w)));
        const Branch& first = net.branch(wires.front());
        out.push_back({FindingKind::no_fuse, first.place, first.pointer,
                       "`" + s.name + "` feeds " + listed(unfused.fed()) + " without a fuse: " + listed(names) +
                           (wires.size() == 1 ? " has none before it" : " have none before them"),
                       "if such a wire chafes through, only the wire itself can burn out and end the short; a starter "
                       "cable commonly has no fuse",
                       "put a fuse near the battery into every wire that is not a starter cable"});
    }
}

void find_joined(const Net& net, Findings& out) {
    const auto& sources = net.circuit().sources;
    for (const SourceId a : sources.ids()) {
        if (!is_battery(sources[a]) || net.budget_exhausted()) continue;
        const NodeSet joined = net.reach(net.only(sources[a].plus), Sign::plus, net.none(),
                                         [&](BranchId b) { return Net::is_bare(net.branch(b)); });
        for (const SourceId b : sources.ids()) {
            if (b <= a) continue;
            const NodeSet& ground = net.held(Sign::ground);
            const bool same_minus =
                sources[a].minus == sources[b].minus || (ground[sources[a].minus] && ground[sources[b].minus]);
            if (!is_battery(sources[b]) || !joined[sources[b].plus] || !same_minus) continue;
            out.push_back({FindingKind::batteries_joined, sources[b].place, sources[b].pointer,
                           "`" + sources[a].name + "` and `" + sources[b].name + "` are connected by wires alone",
                           "an empty one discharges the other, and a short in one is fed by both",
                           "put a fuse, a switch or a diode between them"});
        }
    }
}

}  // namespace lanyard::circuit
