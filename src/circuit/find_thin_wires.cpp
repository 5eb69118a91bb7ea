// Fuses that are larger than what the wires behind them may carry.
//
// A wire is behind a fuse if it is reached from the end at which current leaves the fuse, through anything that
// conducts when closed, but not through another fuse, a power stage (which is a limit of its own), a consumer, a
// source or the chassis. Not this fuse's to protect are wires that a battery reaches with no fuse at all, and the last
// piece before another fuse: fuses stand side by side in one box, and what joins them there is no longer than 33 CFR
// 183.455(b)(1) lets a wire be without any.
// Tested by: tests/findings/wires_test.cpp
#include "circuit/ampacity.hpp"
#include "circuit/currents.hpp"
#include "circuit/find.hpp"
#include "circuit/part_words.hpp"

namespace lanyard::circuit {

namespace {

struct Thinnest {
    BranchId wire;
    Ampacity may;
    int others = 0;  // that are too thin as well
};

class ThinWireSearch {
 public:
    explicit ThinWireSearch(const Net& net)
        : net_(net), unfused_(net.reach(net.feeders(Sign::plus), Sign::plus, net.none(), [&](BranchId b) {
              return Net::has_no_limit(net.branch(b));
          })) {}

    Thinnest behind(BranchId fuse) const {
        Thinnest worst;
        for (const NodeId in : {net_.branch(fuse).from, net_.branch(fuse).to}) look(fuse, in, worst);
        return worst;
    }

 private:
    const Net& net_;
    NodeSet unfused_;

    void look(BranchId fuse, NodeId in, Thinnest& worst) const {
        const Branch& f = net_.branch(fuse);
        const NodeSet fed = net_.reach(net_.feeders(Sign::plus), Sign::plus, net_.none(),
                                       [&](BranchId b) { return b != fuse && !is_consumer(net_.branch(b)); });
        if (!fed[in]) return;
        const NodeSet here = net_.reach(net_.only(other_end(f, in)), Sign::plus, net_.ends(),
                                        [&](BranchId b) { return Net::has_no_limit(net_.branch(b)); });
        net_.spend(here.size());
        for (const NodeId n : here.ids()) {
            if (!here[n]) continue;
            for (const BranchId b : net_.at(n))
                if (net_.branch(b).from == n || !here[net_.branch(b).from]) weigh(fuse, b, worst);
        }
    }

    // Nothing is at the end of the wire but fuses, and other ones than `fuse`.
    bool leads_to_fuse(BranchId fuse, BranchId wire) const {
        const auto only_fuses = [&](NodeId node) {
            bool any = false;
            for (const BranchId b : net_.at(node)) {
                if (b == wire || net_.branch(b).kind == BranchKind::stray) continue;
                if (b == fuse || net_.branch(b).kind != BranchKind::fuse) return false;
                any = true;
            }
            return any;
        };
        return only_fuses(net_.branch(wire).from) || only_fuses(net_.branch(wire).to);
    }

    void weigh(BranchId fuse, BranchId wire, Thinnest& worst) const {
        const Branch& w = net_.branch(wire);
        if (unfused_[w.from] && unfused_[w.to]) return;
        const auto may = ampacity_of(net_.circuit(), w);
        if (!may || may->amps >= *net_.branch(fuse).limit || leads_to_fuse(fuse, wire)) return;
        if (worst.wire) ++worst.others;
        if (worst.wire && worst.may.amps <= may->amps) return;
        worst.wire = wire;
        worst.may = *may;
    }
};

}  // namespace

void find_thin_wires(const Net& net, Findings& out) {
    const ThinWireSearch search(net);
    for (const BranchId b : net.branches()) {
        if (net.budget_exhausted()) break;
        const Branch& fuse = net.branch(b);
        if (fuse.kind != BranchKind::fuse || !fuse.limit) continue;
        const Thinnest worst = search.behind(b);
        if (!worst.wire) continue;
        std::string what = name_of_part(fuse) + " is rated " + amps_text(*fuse.limit) + ", but the wire " +
                           name_of_part(net.branch(worst.wire)) + " after it (" + worst.may.words + ") may carry " +
                           amps_text(worst.may.amps);
        if (worst.others > 0)
            what += ", and " + std::to_string(worst.others) +
                    (worst.others == 1 ? " more wire is" : " more wires are") + " too thin";
        std::string why = "a current that overloads the wire does not blow the fuse";
        if (const auto most = permitted_fuse(net.circuit(), worst.may); most && *fuse.limit <= *most)
            why += "; 33 CFR 183.455(c) still permits a boat below 50 V up to " + amps_text(*most);
        out.push_back({FindingKind::fuse_above_wire, fuse.place, fuse.pointer, std::move(what), std::move(why),
                       "use a smaller fuse or a thicker wire, or say in \"wire_table\" what yours may carry"});
    }
}

}  // namespace lanyard::circuit
