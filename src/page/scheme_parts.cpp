#include "page/scheme_parts.hpp"

#include "base/slot.hpp"
#include "circuit/ways.hpp"

namespace lanyard::page {

namespace {

constexpr std::size_t most_branches = 160;

class Chooser {
 public:
    Chooser(const Model& m, const std::set<SignalId>& asked) : m_(m), net_(m), ways_(net_), asked_(asked) {}

    SchemeChoice choose() {
        loads();
        for (std::size_t k = 0; k < m_.wired_inputs.size(); ++k)
            if (asked_.contains(m_.wired_inputs[k].signal)) {
                out_.inputs.insert(static_cast<int>(k));
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
    std::set<int> coils_;

    void ways_of(int node) {
        for (const int b : ways_.of(node)) out_.branches.insert(b);
    }
    void consumer(int branch) {
        if (!out_.branches.insert(branch).second) return;
        ways_of(net_.branch(branch).from);
        ways_of(net_.branch(branch).to);
    }

    // Whoever asks about the engine asks about what makes it run.
    void loads() {
        std::set<SignalId> wanted(asked_);
        if (m_.engine && asked_.contains(m_.mode)) {
            for (const int l : m_.engine->fires_with) wanted.insert(m_.loads[slot(l)].signal);
            if (m_.engine->cranks_with >= 0) wanted.insert(m_.loads[slot(m_.engine->cranks_with)].signal);
        }
        for (int b = 0; b < net_.branch_count(); ++b) {
            const Branch& x = net_.branch(b);
            if (x.kind == BranchKind::load && wanted.contains(m_.loads[slot(x.index)].signal)) consumer(b);
        }
        for (std::size_t l = 0; l < m_.circuit.magneto_lead.size(); ++l) {
            const int lead = m_.circuit.magneto_lead[l];
            if (lead < 0 || !wanted.contains(m_.loads[l].signal)) continue;
            out_.magnetos.insert(static_cast<int>(l));
            ways_of(lead);
        }
    }

    // A contact on the way brings its coil.
    bool coils() {
        std::set<int> relays;
        for (const int b : out_.branches)
            if (net_.branch(b).kind == BranchKind::contact) relays.insert(net_.branch(b).index);
        for (std::size_t r = 0; r < m_.relays.size(); ++r)
            if (asked_.contains(m_.relays[r].contact)) relays.insert(static_cast<int>(r));
        bool more = false;
        for (int b = 0; b < net_.branch_count(); ++b) {
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
