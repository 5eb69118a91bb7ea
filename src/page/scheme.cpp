#include "page/scheme.hpp"

#include <algorithm>
#include <map>
#include <numeric>

#include "base/slot.hpp"
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
            for (std::size_t s = 0; s < c_.sources.size(); ++s)
                if (c_.sources[s].turns != batteries) feed(static_cast<int>(s));
        for (const int i : chosen_.inputs) hang(m_.wired_inputs[slot(i)].node, i, End::input);
        for (const int l : chosen_.magnetos) hang(c_.magneto_lead[slot(l)], l, End::magneto);
        rest();
        place();
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
    std::vector<int> net_at_;             // per node
    std::map<int, std::vector<int>> at_;  // net: chosen branches that end there
    std::set<int> drawn_;                 // branches
    std::map<int, long> reached_;         // net: cost
    int ground_ = -1;

    const Branch& branch(int b) const { return c_.branches[slot(b)]; }
    int from(int b) const { return net_at_[slot(branch(b).from)]; }
    int to(int b) const { return net_at_[slot(branch(b).to)]; }

    // A wire that is broken at some moment is a part of its own.
    bool is_whole(int b) const {
        if (branch(b).kind != BranchKind::wire) return false;
        return std::all_of(moments_.begin(), moments_.end(), [&](const report::Moment& moment) {
            return film_.standing(moment.scan, sim::Look::rest).closed[slot(b)];
        });
    }

    void join_nodes() {
        std::vector<int> to_node(c_.nodes.size());
        std::iota(to_node.begin(), to_node.end(), 0);
        const auto top = [&](int n) {
            while (to_node[slot(n)] != n) n = to_node[slot(n)];
            return n;
        };
        for (std::size_t b = 0; b < c_.branches.size(); ++b) {
            if (!is_whole(static_cast<int>(b))) continue;
            const int one = top(c_.branches[b].from), other = top(c_.branches[b].to);
            to_node[slot(std::max(one, other))] = std::min(one, other);
        }
        std::map<int, int> numbers;
        for (std::size_t n = 0; n < c_.nodes.size(); ++n) {
            const int t = top(static_cast<int>(n));
            const auto [at, is_new] = numbers.emplace(t, static_cast<int>(out_.nets.size()));
            if (is_new) out_.nets.push_back({"", static_cast<int>(n)});
            net_at_.push_back(at->second);
        }
        ground_ = net_at_[0];
        for (const int b : chosen_.branches) {
            if (from(b) == to(b)) continue;
            at_[from(b)].push_back(b);
            at_[to(b)].push_back(b);
        }
    }

    // Names of ends have a point in them, splices have none.
    void name_nets() {
        for (std::size_t n = 1; n < c_.nodes.size(); ++n) {
            std::string& name = out_.nets[slot(net_at_[n])].name;
            if (name.empty() && c_.nodes[n].name.find('.') == std::string::npos) name = c_.nodes[n].name;
        }
    }

    void feed(int source) {
        const int net = net_at_[slot(c_.sources[slot(source)].plus)];
        if (!at_.contains(net)) return;
        begin(net, {-1, source, net, -1, End::source});
    }
    void hang(int node, int index, End end) {
        const int net = net_at_[slot(node)];
        begin(net, {-1, index, net, -1, end});
    }

    // What begins at a net that is drawn already hangs on it.
    void begin(int net, SchemePart part) {
        const int number = static_cast<int>(out_.parts.size());
        out_.parts.push_back(std::move(part));
        if (reached_.contains(net) || net == ground_) {
            if (net != ground_) out_.nets[slot(net)].parts.push_back(number);
            return;
        }
        out_.nets[slot(net)].root = number;
        grow(net);
    }

    void grow(int root) {
        std::set<std::pair<long, int>> open{{0, root}};
        std::map<int, std::pair<long, int>> best{{root, {0, -1}}};  // net: cost, branch by which it is reached
        while (!open.empty()) {
            const auto [cost, net] = *open.begin();
            open.erase(open.begin());
            if (!reached_.emplace(net, cost).second) continue;
            if (const int by = best.at(net).second; by >= 0)
                add(by, from(by) == net ? to(by) : from(by), net, End::net);
            for (const int b : at_[net]) {
                const int there = from(b) == net ? to(b) : from(b);
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

    void add(int b, int near, int far, End end, const std::string& end_name = "") {
        drawn_.insert(b);
        out_.nets[slot(near)].parts.push_back(static_cast<int>(out_.parts.size()));
        out_.parts.push_back({b, -1, near, end == End::net ? far : -1, end, end_name});
    }

    void rest() {
        for (const int b : chosen_.branches) {
            int near = from(b), far = to(b);
            if (near == far || drawn_.contains(b)) continue;
            if (near == ground_ || (far != ground_ && reached_[far] < reached_[near])) std::swap(near, far);
            if (far == ground_)
                add(b, near, -1, End::ground, ground_point(branch(b).from, branch(b).to));
            else
                add(b, near, -1, End::other_net, out_.nets[slot(far)].name);
        }
    }

    // The wire that bolts one of the nodes to the chassis, near it.
    std::string ground_point(int a, int b) const {
        std::vector<int> open{net_at_[slot(a)] == ground_ ? a : b};
        std::set<int> seen{0, open[0]};
        for (std::size_t k = 0; k < open.size(); ++k)
            for (const Branch& x : c_.branches) {
                if (x.kind != BranchKind::wire || (x.from != open[k] && x.to != open[k])) continue;
                const int there = other_end(x, open[k]);
                if (there == 0) return x.name;
                if (seen.insert(there).second) open.push_back(there);
            }
        return "";
    }

    void place() {
        for (auto& net : out_.nets)
            if (net.root >= 0) place(static_cast<int>(&net - out_.nets.data()), 0, out_.rows++);
    }
    void place(int index, int column, int row) {
        SchemeNet& net = out_.nets[slot(index)];
        net.column = column;
        net.row = row;
        out_.columns = std::max(out_.columns, column);
        bool first = true;
        for (const int p : net.parts) {
            SchemePart& part = out_.parts[slot(p)];
            part.row = first ? row : out_.rows++;
            first = false;
            out_.columns = std::max(out_.columns, column + 1);
            if (part.far >= 0) place(part.far, column + 1, part.row);
        }
        if (net.root >= 0) out_.parts[slot(net.root)].row = row;
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
