// Loads and coils that can never work, whatever the switches do.
//
// A consumer can have plus at an end if that is reached from a source through anything that conducts when closed, and
// through other consumers that let current pass, but not through nodes that bare wires hold at the chassis; ground
// likewise. What is wired at one end only is told by the reader already.
// Tested by: tests/findings/parts_test.cpp
#include "circuit/find.hpp"
#include "circuit/part_words.hpp"

namespace lanyard::circuit {

namespace {

struct Ends {
    bool from_plus = false, to_plus = false, from_ground = false, to_ground = false;

    bool works(bool polar) const { return (from_plus && to_ground) || (!polar && to_plus && from_ground); }
};

Ends ends_of(const Branch& b, const NodeSet& plus, const NodeSet& ground) {
    return {plus[b.from], plus[b.to], ground[b.from], ground[b.to]};
}

bool is_loose(const Net& net, NodeId node, BranchId consumer) {
    if (net.ends()[node]) return false;
    for (const BranchId b : net.at(node))
        if (b != consumer && net.branch(b).kind != BranchKind::stray) return false;
    return true;
}

NodeSet weak(const Net& net, Sign sign, BranchId without) {
    const Sign other = sign == Sign::plus ? Sign::ground : Sign::plus;
    return net.reach(net.starts(sign), sign, net.held(other), [&](BranchId b) {
        return b != without && (!is_consumer(net.branch(b)) || net.branch(b).lets_through);
    });
}

WiringFinding told(const Branch& b, const Ends& e) {
    const std::string name = (b.kind == BranchKind::coil      ? "the coil of "
                              : b.kind == BranchKind::winding ? "the field of "
                                                              : "the load ") +
                             part_of_branch(b);
    if (!e.from_plus && !e.to_plus)
        return {FindingKind::no_plus,
                b.place,
                b.pointer,
                name + " can never have plus, whatever the switches do",
                "no path leads to it from a source",
                "follow its wires back to a fuse or a battery"};
    const bool other_way = b.polar && e.to_plus && e.from_ground;
    return {FindingKind::no_ground,
            b.place,
            b.pointer,
            name + (other_way ? " can have plus only where it needs ground"
                              : " can never have ground, whatever the switches do"),
            other_way ? "it is \"polar\": it works with plus at the end that a path enters first"
                      : "no path leads from it to the chassis",
            other_way ? "reverse it" : "connect its other end to `ground`, to a ground point or to an output"};
}

}  // namespace

void find_dead_ends(const Net& net, Findings& out) {
    const NodeSet &plus = net.strong(Sign::plus), &ground = net.strong(Sign::ground);
    for (const BranchId c : net.branches()) {
        if (net.budget_exhausted()) break;
        const Branch& b = net.branch(c);
        if (!is_consumer(b) || ends_of(b, plus, ground).works(b.polar)) continue;
        if (is_loose(net, b.from, c) || is_loose(net, b.to, c)) continue;
        const Ends e = ends_of(b, weak(net, Sign::plus, c), weak(net, Sign::ground, c));
        if (!e.works(b.polar)) out.push_back(told(b, e));
    }
}

}  // namespace lanyard::circuit
