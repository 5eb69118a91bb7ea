#include "page/scheme.hpp"

#include <algorithm>
#include <map>

#include "page/scheme_parts.hpp"
#include "page/scheme_states.hpp"

namespace lanyard::page {

namespace {

constexpr int load_costs = 1000;

class Builder {
 public:
    Builder(const report::Film& film, const std::vector<report::Moment>& moments, const SchemeChoice& chosen)
        : film_(film), m_(film.model()), c_(m_.circuit), moments_(moments), chosen_(chosen) {}

    Scheme build() {
        join_nodes();
        name_nets();
        for (const bool batteries : {true, false})
            for (const SourceId s : c_.sources.ids())
                if (c_.sources[s].turns != batteries) feed(s);
        for (const WiredInputId i : chosen_.inputs) hang(m_.wired_inputs[i].node, i, End::input);
        for (const LoadId l : chosen_.magnetos) hang(c_.magneto_lead[l], l, End::magneto);
        rest();
        place();
        out_.net_at = std::move(net_at_);
        scheme_states(film_, moments_, out_);
        return std::move(out_);
    }

 private:
    const report::Film& film_;
    const Model& m_;
    const Circuit& c_;
    const std::vector<report::Moment>& moments_;
    const SchemeChoice& chosen_;
    Scheme out_;
    Indexed<Node, NetId> net_at_;
    std::map<NetId, std::vector<BranchId>> at_;  // chosen branches that end there
    std::set<BranchId> drawn_;
    std::map<NetId, long> reached_;  // at which cost
    NetId ground_;

    const Branch& branch(BranchId b) const { return c_.branches[b]; }
    NetId from(BranchId b) const { return net_at_[branch(b).from]; }
    NetId to(BranchId b) const { return net_at_[branch(b).to]; }

    // A wire that is broken at some moment is a part of its own.
    bool is_whole(BranchId b) const {
        if (branch(b).kind != BranchKind::wire) return false;
        return std::all_of(moments_.begin(), moments_.end(), [&](const report::Moment& moment) {
            return film_.standing(moment.scan, sim::Look::rest).closed[b];
        });
    }

    void join_nodes() {
        Indexed<Node, NodeId> to_node;
        for (const NodeId n : c_.nodes.ids()) to_node.push_back(n);
        const auto top = [&](NodeId n) {
            while (to_node[n] != n) n = to_node[n];
            return n;
        };
        for (const BranchId b : c_.branches.ids()) {
            if (!is_whole(b)) continue;
            const NodeId one = top(c_.branches[b].from), other = top(c_.branches[b].to);
            to_node[std::max(one, other)] = std::min(one, other);
        }
        std::map<NodeId, NetId> numbers;
        for (const NodeId n : c_.nodes.ids()) {
            const auto [at, is_new] = numbers.emplace(top(n), out_.nets.next());
            if (is_new) out_.nets.push_back({"", n});
            net_at_.push_back(at->second);
        }
        ground_ = net_at_[ground_node];
        for (const BranchId b : chosen_.branches) {
            if (from(b) == to(b)) continue;
            at_[from(b)].push_back(b);
            at_[to(b)].push_back(b);
        }
    }

    // Names of ends have a point in them, splices have none.
    void name_nets() {
        for (const NodeId n : c_.nodes.ids()) {
            if (n == ground_node) continue;
            std::string& name = out_.nets[net_at_[n]].name;
            if (name.empty() && c_.nodes[n].name.find('.') == std::string::npos) name = c_.nodes[n].name;
        }
    }

    void feed(SourceId source) {
        const NetId net = net_at_[c_.sources[source].plus];
        if (!at_.contains(net)) return;
        begin(net, {{}, source, net, {}, {}, End::source});
    }
    void hang(NodeId node, AnyId index, End end) {
        const NetId net = net_at_[node];
        begin(net, {{}, index, net, {}, {}, end});
    }

    // What begins at a net that is drawn already hangs on it.
    void begin(NetId net, SchemePart part) {
        const PartId number = out_.parts.add(std::move(part));
        if (reached_.contains(net) || net == ground_) {
            if (net != ground_) out_.nets[net].parts.push_back(number);
            return;
        }
        out_.nets[net].root = number;
        grow(net);
    }

    void grow(NetId root) {
        std::set<std::pair<long, NetId>> open{{0, root}};
        std::map<NetId, std::pair<long, BranchId>> best{{root, {0, {}}}};  // cost, branch by which it is reached
        while (!open.empty()) {
            const auto [cost, net] = *open.begin();
            open.erase(open.begin());
            if (!reached_.emplace(net, cost).second) continue;
            if (const BranchId by = best.at(net).second)
                add({by, {}, from(by) == net ? to(by) : from(by), net, {}, End::net});
            for (const BranchId b : at_[net]) {
                const NetId there = from(b) == net ? to(b) : from(b);
                const long more = cost + (is_consumer(branch(b)) ? load_costs : 1);
                const auto known = best.find(there);
                if (there == ground_ || reached_.contains(there) ||
                    (known != best.end() && known->second.first <= more))
                    continue;
                best[there] = {more, b};
                open.emplace(more, there);
            }
        }
    }

    void add(SchemePart part) {
        drawn_.insert(part.branch);
        SchemeNet& near = out_.nets[part.near];
        near.parts.push_back(out_.parts.add(std::move(part)));
    }

    void rest() {
        for (const BranchId b : chosen_.branches) {
            NetId near = from(b), far = to(b);
            if (near == far || drawn_.contains(b)) continue;
            if (near == ground_ || (far != ground_ && reached_[far] < reached_[near])) std::swap(near, far);
            if (far == ground_)
                add({b, {}, near, {}, {}, End::ground, ground_words(branch(b))});
            else
                add({b, {}, near, {}, far, End::other_net, out_.nets[far].name});
        }
    }

    // The way to the chassis over wires, by the first of them and the last, which may be that of a ground point. What
    // has its ground inside, as a controller without a wire to its own, needs none.
    std::string ground_words(const Branch& part) const {
        const NodeId end = net_at_[part.from] == ground_ ? part.from : part.to;
        if (end == ground_node) return "";
        std::vector<std::pair<NodeId, std::string>> open{{end, ""}};
        std::set<NodeId> seen{open[0].first};
        for (std::size_t k = 0; k < open.size(); ++k)
            for (const Branch& x : c_.branches) {
                const auto [here, first] = open[k];
                if (x.kind != BranchKind::wire || (x.from != here && x.to != here)) continue;
                const NodeId there = other_end(x, here);
                if (there == ground_node) return first.empty() ? x.name : first + ", " + x.name;
                if (seen.insert(there).second) open.emplace_back(there, first.empty() ? x.name : first);
            }
        return "";
    }

    void place() {
        for (const NetId net : out_.nets.ids())
            if (out_.nets[net].root) place(net, 0, out_.rows++);
    }
    void place(NetId index, int column, int row) {
        SchemeNet& net = out_.nets[index];
        net.column = column;
        net.row = row;
        out_.columns = std::max(out_.columns, column);
        bool first = true;
        for (const PartId p : net.parts) {
            SchemePart& part = out_.parts[p];
            part.row = first ? row : out_.rows++;
            first = false;
            out_.columns = std::max(out_.columns, column + 1);
            if (part.far) place(part.far, column + 1, part.row);
        }
        if (net.root) out_.parts[net.root].row = row;
    }
};

}  // namespace

Scheme scheme_of(const report::Film& film, const std::vector<report::Moment>& moments,
                 const std::set<SignalId>& asked) {
    if (!film.model().circuit.exists() || moments.empty()) return {};
    const SchemeChoice chosen = scheme_parts(film.model(), asked);
    return chosen.branches.empty() ? Scheme{} : Builder(film, moments, chosen).build();
}

}  // namespace lanyard::page
