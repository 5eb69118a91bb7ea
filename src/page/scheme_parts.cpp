#include "page/scheme_parts.hpp"

#include "circuit/ways.hpp"

namespace lanyard::page {

namespace {

constexpr std::size_t most_branches = 160;

class Chooser {
 public:
    Chooser(const Model& m, const std::set<SignalId>& asked) : m_(m), net_(m), ways_(net_), asked_(asked) {}

    SchemeChoice choose() {
        loads();
        for (const WiredInputId k : m_.wired_inputs.ids())
            if (asked_.contains(m_.wired_inputs[k].signal)) {
                out_.inputs.insert(k);
                ways_of(m_.wired_inputs[k].node);
            }
        while (coils()) continue;
        return out_.branches.size() > most_branches ? SchemeChoice{} : out_;
    }

 private:
    const Model& m_;
    Net net_;
    Ways ways_;
    const std::set<SignalId>& asked_;
    SchemeChoice out_;
    std::set<BranchId> coils_;

    void ways_of(NodeId node) {
        for (const BranchId b : ways_.of(node)) out_.branches.insert(b);
    }
    void consumer(BranchId branch) {
        if (!out_.branches.insert(branch).second) return;
        ways_of(net_.branch(branch).from);
        ways_of(net_.branch(branch).to);
    }

    // Whoever asks about the engine asks about what makes it run.
    void loads() {
        std::set<SignalId> wanted(asked_);
        if (m_.engine && asked_.contains(m_.mode)) {
            for (const LoadId l : m_.engine->fires_with) wanted.insert(m_.loads[l].signal);
            if (m_.engine->cranks_with) wanted.insert(m_.loads[m_.engine->cranks_with].signal);
        }
        for (const BranchId b : net_.branches()) {
            const Branch& x = net_.branch(b);
            if (x.kind == BranchKind::load && wanted.contains(m_.loads[x.index].signal)) consumer(b);
        }
        for (const LoadId l : m_.circuit.magneto_lead.ids()) {
            const NodeId lead = m_.circuit.magneto_lead[l];
            if (!lead || !wanted.contains(m_.loads[l].signal)) continue;
            out_.magnetos.insert(l);
            ways_of(lead);
        }
    }

    // A contact on the way brings its coil.
    bool coils() {
        std::set<RelayId> relays;
        for (const BranchId b : out_.branches)
            if (net_.branch(b).kind == BranchKind::contact) relays.insert(net_.branch(b).index.to<Relay>());
        for (const RelayId r : m_.relays.ids())
            if (asked_.contains(m_.relays[r].contact)) relays.insert(r);
        bool more = false;
        for (const BranchId b : net_.branches()) {
            if (net_.branch(b).kind != BranchKind::coil || !relays.contains(net_.branch(b).index)) continue;
            if (!coils_.insert(b).second) continue;
            consumer(b);
            more = true;
        }
        return more;
    }
};

}  // namespace

SchemeChoice scheme_parts(const Model& m, const std::set<SignalId>& asked) { return Chooser(m, asked).choose(); }

}  // namespace lanyard::page
