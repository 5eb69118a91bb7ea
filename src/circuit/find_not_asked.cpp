// Parts that have no say in any claim.
//
// A claim's cone (claims/cone.hpp) is followed through the wiring on the ways of the nodes that it asks (ways.hpp): of
// a load both ends, of an input its pin, and so on. From a node on such a way the search goes back through another
// consumer only if that lets current through and its far end can have by itself what is sought: that is a sneak path.
// Ways back through two consumers in a row are not followed; help says so.
#include <algorithm>
#include <unordered_map>

#include "base/slot.hpp"
#include "circuit/find.hpp"
#include "circuit/part_words.hpp"
#include "circuit/ways.hpp"
#include "claims/cone.hpp"

namespace lanyard {

namespace {

using Add = std::function<void(SignalId)>;

bool is_held(const Net& net, int node) {
    return net.held(Sign::plus)[slot(node)] || net.held(Sign::ground)[slot(node)];
}

// Current may come back through the consumer to its end at `near`.
bool sneaks(const Net& net, const Branch& b, int near, Sign sign) {
    return is_consumer(b) && b.lets_through && !is_held(net, near) && net.strong(sign)[slot(other_end(b, near))];
}

NodeSet back_doors(const Net& net, Sign sign) {
    NodeSet doors = net.none();
    for (int b = 0; b < net.branch_count(); ++b)
        for (const int near : {net.branch(b).from, net.branch(b).to})
            if (sneaks(net, net.branch(b), near, sign)) doors[slot(near)] = true;
    return doors;
}

class Asked {
 public:
    explicit Asked(const Net& net)
        : net_(net),
          m_(net.model()),
          plus_ways_(net, back_doors(net, Sign::plus)),
          ground_ways_(net, back_doors(net, Sign::ground)),
          branches_(net.circuit().branches.size()),
          inputs_(m_.wired_inputs.size()) {}

    void claim(int index) {
        seen_plus_ = seen_ground_ = net_.none();
        net_.spend(seen_plus_.size());
        const Claim& c = m_.claims[slot(index)];
        const auto follow = [this](SignalId id, const Add& add) { ask(id, add); };
        cone_of(m_, c.condition, index, follow);
    }
    bool has(int branch) const { return branches_[slot(branch)]; }
    bool has_input(std::size_t input) const { return inputs_[input]; }

 private:
    const Net& net_;
    const Model& m_;
    Ways plus_ways_, ground_ways_;
    std::vector<bool> branches_, inputs_;
    NodeSet seen_plus_, seen_ground_;

    void ask(SignalId id, const Add& add) {
        const Signal& s = m_.signal(id);
        const Circuit& c = net_.circuit();
        if (s.kind == SignalKind::load) ask_probe(m_.loads[slot(s.index)].probe, add);
        if (s.kind == SignalKind::contact) ask_probe(m_.relays[slot(s.index)].coil_probe, add);
        if (s.kind == SignalKind::node) node(s.index, Sign::plus, add);
        if (s.kind == SignalKind::wired) {
            inputs_[slot(s.index)] = true;
            const WiredInput& input = m_.wired_inputs[slot(s.index)];
            node(input.node, input.pulled_up ? Sign::ground : Sign::plus, add);
        }
        if (s.kind == SignalKind::powered) {
            node(c.supply_plus, Sign::plus, add);
            node(c.supply_minus, Sign::ground, add);
        }
        for (const auto& source : c.sources) {
            if (source.field_node >= 0) node(source.field_node, Sign::plus, add);
            if (source.minus > 0) node(source.minus, Sign::ground, add);  // what leads back to it
        }
    }

    void ask_probe(int probe, const Add& add) {
        if (probe < 0) return;
        const Probe& p = net_.circuit().probes[slot(probe)];
        if (p.kind == ProbeKind::magneto) return node(net_.circuit().magneto_lead[slot(p.index)], Sign::ground, add);
        consumer(p.index, add);
    }

    void consumer(int b, const Add& add) {
        const Branch& x = net_.branch(b);
        branches_[slot(b)] = true;
        node(x.from, Sign::plus, add);
        node(x.to, Sign::ground, add);
        const bool other_way =
            !x.polar && net_.strong(Sign::plus)[slot(x.to)] && net_.strong(Sign::ground)[slot(x.from)];
        if (!other_way) return;
        node(x.to, Sign::plus, add);
        node(x.from, Sign::ground, add);
    }

    void node(int start, Sign sign, const Add& add) {
        const Ways& ways = sign == Sign::plus ? plus_ways_ : ground_ways_;
        NodeSet& seen = sign == Sign::plus ? seen_plus_ : seen_ground_;
        std::vector<int> open{start};
        while (!open.empty()) {
            const int n = open.back();
            open.pop_back();
            ways.follow(
                n, seen, [&](int b) { pass(b, add); }, [&](int reached) { sneak(reached, sign, open); });
        }
    }

    // What brings back by another consumer what is sought.
    void sneak(int n, Sign sign, std::vector<int>& open) {
        for (const int b : net_.at(n)) {
            const Branch& x = net_.branch(b);
            if (!sneaks(net_, x, n, sign)) continue;
            branches_[slot(b)] = true;
            open.push_back(other_end(x, n));
        }
    }

    void pass(int b, const Add& add) {
        branches_[slot(b)] = true;
        const Branch& x = net_.branch(b);
        if (x.kind == BranchKind::pole) add(m_.switches[slot(x.index)].position);
        if (x.kind == BranchKind::contact) add(m_.relays[slot(x.index)].contact);
        if (x.kind == BranchKind::output) add(m_.outputs[slot(x.index)].signal);
    }
};

struct Part {
    std::string name;
    Place place;
    std::string pointer;
    bool asked = false;
};

// Wires and terminals go with the parts that they join.
std::vector<Part> parts_of(const Net& net, const Asked& asked) {
    std::vector<Part> all;
    std::unordered_map<std::string, std::size_t> known;
    const auto add = [&](const std::string& name, const Place& place, const std::string& pointer, bool is_asked) {
        const auto [at, fresh] = known.emplace(name, all.size());
        if (fresh) all.push_back({name, place, pointer, false});
        all[at->second].asked = all[at->second].asked || is_asked;
    };
    for (int b = 0; b < net.branch_count(); ++b) {
        const Branch& x = net.branch(b);
        if (Net::is_bare(x) || x.kind == BranchKind::stray) continue;
        add(part_of_branch(x), x.place, x.pointer, asked.has(b));
    }
    const Model& m = net.model();
    for (std::size_t i = 0; i < m.wired_inputs.size(); ++i) {
        const Signal& s = m.signal(m.wired_inputs[i].signal);
        add("`" + s.name + "`", s.place, s.pointer, asked.has_input(i));
    }
    return all;
}

}  // namespace

void find_not_asked(const Net& net, Findings& out) {
    if (net.model().claims.empty()) return;
    Asked asked(net);
    for (std::size_t c = 0; c < net.model().claims.size() && !net.tired(); ++c) asked.claim(static_cast<int>(c));
    std::vector<Part> left;
    for (auto& p : parts_of(net, asked))
        if (!p.asked) left.push_back(std::move(p));
    if (left.empty()) return;
    std::stable_sort(left.begin(), left.end(), [](const Part& x, const Part& y) {
        return std::pair(x.place.line, x.place.column) < std::pair(y.place.line, y.place.column);
    });
    std::vector<std::string> names;
    for (const auto& p : left) names.push_back(p.name);
    out.push_back({FindingKind::not_asked, left.front().place, left.front().pointer,
                   "no claim depends on " + listed(names), "whatever is wrong there, every verdict stays as it is",
                   "make a claim about what they are for, or leave them out"});
}

}  // namespace lanyard
