// Coils that an output switches off with nothing across them.
//
// A coil hangs on an output if wires, terminals and fuses alone join one of its ends to the pin. A diode lies across
// it if the same joins the diode's two ends to the coil's, such that it blocks while the coil is energised; where the
// coil is not "polar", either way round counts. A half bridge takes the current itself. Common practice; no source.
// Tested by: tests/findings/parts_test.cpp
#include "circuit/find.hpp"
#include "circuit/part_words.hpp"

namespace lanyard::circuit {

namespace {

// Which nodes are one piece of copper.
class Copper {
 public:
    explicit Copper(const Net& net) : of_(like(net.circuit().nodes)) {
        for (const NodeId n : of_.ids()) of_[n] = n;
        for (const BranchId b : net.branches()) {
            const Branch& x = net.branch(b);
            if (Net::is_bare(x) || x.kind == BranchKind::fuse) of_[piece(x.from)] = piece(x.to);
        }
    }
    NodeId piece(NodeId node) {
        while (of_[node] != node) node = of_[node] = of_[of_[node]];
        return node;
    }

 private:
    Indexed<Node, NodeId> of_;
};

struct Pins {
    NodeSet upper, lower;  // by piece of copper: such a half of a power stage is there
};

Pins pins_of(const Net& net, Copper& copper) {
    Pins pins{net.none(), net.none()};
    for (const BranchId b : net.branches()) {
        const Branch& x = net.branch(b);
        if (x.kind != BranchKind::output) continue;
        const bool upper = net.is_upper(x);
        (upper ? pins.upper : pins.lower)[copper.piece(upper ? x.to : x.from)] = true;
    }
    return pins;
}

bool is_across(const Branch& diode, const Branch& coil, Copper& copper) {
    const NodeId anode = copper.piece(diode.from), cathode = copper.piece(diode.to);
    const NodeId from = copper.piece(coil.from), to = copper.piece(coil.to);
    return (anode == to && cathode == from) || (!coil.polar && anode == from && cathode == to);
}

}  // namespace

void find_coils(const Net& net, Findings& out) {
    Copper copper(net);
    const Pins pins = pins_of(net, copper);
    Indexed<Node, std::vector<BranchId>> diodes(like(net.circuit().nodes));  // by the piece of their anodes
    for (const BranchId b : net.branches())
        if (net.branch(b).kind == BranchKind::diode) diodes[copper.piece(net.branch(b).from)].push_back(b);
    for (const BranchId c : net.branches()) {
        const Branch& coil = net.branch(c);
        if (coil.kind != BranchKind::coil || net.model().relays[coil.index].suppressed) continue;
        bool driven = false, safe = false;
        for (const NodeId end : {coil.from, coil.to}) {
            const NodeId piece = copper.piece(end);
            driven = driven || pins.upper[piece] != pins.lower[piece];
            for (const BranchId d : diodes[piece]) safe = safe || is_across(net.branch(d), coil, copper);
        }
        if (!driven || safe) continue;
        out.push_back({FindingKind::coil_unsuppressed, coil.place, coil.pointer,
                       "an output drives the coil of " + part_of_branch(coil) + ", and nothing is connected across it",
                       "when the output switches off, the coil's voltage rises until something gives way: the output, "
                       "unless it has an internal clamp",
                       "connect a diode or a resistor across it, or write \"suppressed\": true if its socket has one"});
    }
}

}  // namespace lanyard::circuit
