// Fuses that take the protection away and leave what it protects running.
//
// A fuse is told if, with it open,
//   - the controller can have no power, and it could with the fuse whole;
//   - everything that the engine fires with can have power all the same, the controller's outputs off and hand
//     switches anywhere: loads of the wiring, by ways that are left; relays count as pulled in only while their coil
//     can be fed, as released always. What outputs feed directly is off then, and what nothing in the model feeds
//     counts as off as well;
//   - and with the controller alive one of these loads hangs on an output, directly or through a relay: else the
//     controller was no protection of theirs.
// Loads that go with the same fuse, such as a pump, are named.
// Tested by: tests/findings/protection_test.cpp
#include <algorithm>

#include "circuit/find.hpp"
#include "circuit/part_words.hpp"
#include "circuit/ways.hpp"

namespace lanyard::circuit {

namespace {

// What can be fed with some branch gone.
struct Left {
    NodeSet plus, ground;
    Indexed<Relay, bool> pulled;  // its make contact can be closed

    bool feeds(const Branch& b) const {
        return (plus[b.from] && ground[b.to]) || (!b.polar && plus[b.to] && ground[b.from]);
    }
};

class ProtectionSearch {
 public:
    explicit ProtectionSearch(const Net& net) : net_(net), m_(net.model()), c_(net.circuit()) {}

    bool has_power(const Left& left) const { return left.plus[c_.supply_plus] && left.ground[c_.supply_minus]; }

    // `alive`: the controller is.
    Left without(BranchId fuse, bool alive) const {
        Left left;
        left.pulled.assign(m_.relays.size(), true);
        for (bool again = true; again && !net_.budget_exhausted();) {
            const auto passes = [&](BranchId b) { return b != fuse && closed(net_.branch(b), left, alive); };
            left.plus = net_.reach(Sign::plus, passes);
            left.ground = net_.reach(Sign::ground, passes);
            again = release(left, alive);
        }
        return left;
    }

    // All that the engine fires with can have power.
    bool fires(const Left& left) const {
        return !m_.engine->fires_with.empty() &&
               std::all_of(m_.engine->fires_with.begin(), m_.engine->fires_with.end(),
                           [&](LoadId load) { return can_have_power(m_.loads[load], left); });
    }

    // An output has a say in what the engine fires with.
    bool is_guarded() const {
        const Ways ways(net_);
        return std::any_of(m_.engine->fires_with.begin(), m_.engine->fires_with.end(), [&](LoadId load) {
            const Load& l = m_.loads[load];
            if (!l.probe) return !l.feeders.empty();
            return hangs_on_output(ways, l);
        });
    }

    std::vector<std::string> loads_lost(const Left& whole, const Left& left) const {
        std::vector<std::string> names;
        for (const BranchId b : net_.branches()) {
            const Branch& x = net_.branch(b);
            if (x.kind == BranchKind::load && whole.feeds(x) && !left.feeds(x)) names.push_back(part_of_branch(x));
        }
        return names;
    }

 private:
    const Net& net_;
    const Model& m_;
    const Circuit& c_;

    bool closed(const Branch& b, const Left& left, bool alive) const {
        if (b.kind == BranchKind::output) return alive;
        return b.kind != BranchKind::contact || !b.makes || left.pulled[b.index];
    }

    bool release(Left& left, bool alive) const {
        bool changed = false;
        for (const RelayId r : m_.relays.ids()) {
            const Relay& relay = m_.relays[r];
            if (!left.pulled[r]) continue;
            const bool can = relay.coil ? alive : relay.coil_probe && left.feeds(coil_of(relay));
            left.pulled[r] = can;
            changed = changed || !can;
        }
        return changed;
    }

    const Branch& coil_of(const Relay& r) const { return net_.branch(c_.probes[r.coil_probe].index); }

    bool can_have_power(const Load& l, const Left& left) const {
        if (!l.probe) return false;
        const Probe& p = c_.probes[l.probe];
        return p.kind == ProbeKind::magneto || left.feeds(net_.branch(p.index));
    }

    bool hangs_on_output(const Ways& ways, const Load& l) const {
        const Probe& p = c_.probes[l.probe];
        NodeSet seen = net_.none();
        bool found = false;
        std::vector<NodeId> open;
        if (p.kind == ProbeKind::magneto)
            open = {c_.magneto_lead[p.index]};
        else
            open = {net_.branch(p.index).from, net_.branch(p.index).to};
        while (!open.empty() && !found) {
            const NodeId n = open.back();
            open.pop_back();
            ways.follow(
                n, seen,
                [&](BranchId b) {
                    const Branch& x = net_.branch(b);
                    found = found || x.kind == BranchKind::output;
                    if (x.kind != BranchKind::contact) return;
                    const Relay& r = m_.relays[x.index];
                    found = found || r.coil;
                    if (!r.coil_probe) return;
                    open.push_back(coil_of(r).from);
                    open.push_back(coil_of(r).to);
                },
                [](NodeId) {});
        }
        return found;
    }
};

}  // namespace

void find_protection(const Net& net, Findings& out) {
    const Model& m = net.model();
    if (!m.engine || !net.circuit().supply_plus) return;
    const ProtectionSearch search(net);
    const Left whole = search.without({}, true);
    if (!search.has_power(whole) || !search.is_guarded()) return;
    for (const BranchId b : net.branches()) {
        if (net.budget_exhausted()) break;
        const Branch& fuse = net.branch(b);
        if (fuse.kind != BranchKind::fuse || search.has_power(search.without(b, true))) continue;
        const Left left = search.without(b, false);
        if (!search.fires(left)) continue;
        const auto lost = search.loads_lost(whole, left);
        std::string what =
            "with " + name_of_part(fuse) +
            " blown the controller is dead, but everything that the engine fires with can still have power";
        if (!lost.empty()) what += "; " + listed(lost) + (lost.size() == 1 ? " loses" : " lose") + " power with it";
        out.push_back({FindingKind::fuse_ends_protection, fuse.place, fuse.pointer, std::move(what),
                       "the engine keeps running with nothing watching it",
                       "let the controller power what the engine needs, so that it goes off when the controller does"});
    }
}

}  // namespace lanyard::circuit
