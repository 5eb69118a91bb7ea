// What a switch does by its position alone: it shorts a source, or joins two circuits at the end that the halves of a
// change-over contact share.
//
// A position of a hand switch shorts a source if a way from the source's plus to its minus leads over contacts of that
// switch in that position, wires, terminals, diodes and fuses only: all other contacts open, no load on it. Without a
// fuse on it the short is dead. A source that is shorted without any contact is told once.
//
// Two wires are joined at the shared end of a change-over contact if each of them has plus from elsewhere, over
// anything that is no load, and they are not one piece of copper without that end anyway. Tested by:
// tests/findings/switches_test.cpp
#include <algorithm>
#include <set>

#include "circuit/find.hpp"
#include "circuit/part_words.hpp"

namespace lanyard::circuit {

namespace {

struct Position {
    SwitchId hand_switch;  // none: all contacts are open
    bool on = false;
};

bool closed_in(const Position& p, const Branch& b) {
    return b.kind == BranchKind::pole && p.hand_switch && b.index == p.hand_switch && b.makes == p.on;
}

bool is_shorted(const Net& net, const Source& s, const Position& p, bool through_fuses) {
    const NodeSet has = net.reach(net.only(s.plus), Sign::plus, net.none(), [&](BranchId id) {
        const Branch& b = net.branch(id);
        if (b.kind == BranchKind::fuse) return through_fuses;
        return Net::is_always(b) || closed_in(p, b);
    });
    return has[s.minus];
}

std::string position_words(const Net& net, const Position& p) {
    if (!p.hand_switch) return "wires alone, whatever the switches do,";
    const Model& m = net.model();
    return "`" + m.name_of(m.switches[p.hand_switch].position) + "` " + (p.on ? "on" : "off");
}

void tell_short(const Net& net, const Source& s, const Position& p, bool dead, Findings& out) {
    const Model& m = net.model();
    const Signal* sw = p.hand_switch ? &m.signal(m.switches[p.hand_switch].position) : nullptr;
    const std::string verb = p.hand_switch ? " shorts `" : " short `";
    out.push_back(
        {FindingKind::switch_shorts, sw != nullptr ? sw->place : s.place, sw != nullptr ? sw->pointer : s.pointer,
         position_words(net, p) + verb + s.name +
             (dead ? "` with no load and no fuse between plus and minus"
                   : "` with no load between plus and minus: a fuse blows"),
         dead ? "wires and contacts burn until one of them opens" : "what hangs on that fuse is dead from then on",
         "put the load between, or break the feed with the switch instead"});
}

// The end that the halves share, with the halves.
struct ChangeOver {
    NodeId shared;
    BranchId make, brk;
};

std::vector<ChangeOver> change_overs(const Net& net) {
    std::vector<ChangeOver> out;
    for (const BranchId a : net.branches()) {
        const Branch& x = net.branch(a);
        if (!is_switched(x) || x.kind == BranchKind::output || !x.makes) continue;
        for (const BranchId b : net.at(x.from)) {
            const Branch& y = net.branch(b);
            if (y.kind == x.kind && y.index == x.index && !y.makes && y.from == x.from) out.push_back({x.from, a, b});
        }
    }
    return out;
}

// Wires at the shared end that have plus without it.
std::vector<BranchId> fed_wires(const Net& net, const ChangeOver& c) {
    const NodeSet fed = net.reach(net.starts(Sign::plus), Sign::plus, net.only(c.shared),
                                  [&](BranchId b) { return !is_consumer(net.branch(b)); });
    std::vector<BranchId> out;
    for (const BranchId b : net.at(c.shared)) {
        if (b == c.make || b == c.brk || net.branch(b).kind == BranchKind::stray) continue;
        const NodeId other = other_end(net.branch(b), c.shared);
        const NodeSet copper = net.reach(net.only(other), Sign::plus, net.only(c.shared),
                                         [&](BranchId x) { return Net::is_bare(net.branch(x)); });
        const bool again =
            std::any_of(out.begin(), out.end(), [&](BranchId x) { return copper[other_end(net.branch(x), c.shared)]; });
        if (fed[other] && !again) out.push_back(b);
    }
    return out;
}

}  // namespace

void find_switch_shorts(const Net& net, Findings& out) {
    std::vector<Position> positions{{}};
    for (const SwitchId s : net.model().switches.ids())
        for (const bool on : {true, false}) positions.push_back({s, on});
    for (const Source& s : net.circuit().sources)
        for (const Position& p : positions) {
            if (net.budget_exhausted() || !is_shorted(net, s, p, true)) continue;
            tell_short(net, s, p, is_shorted(net, s, p, false), out);
            if (!p.hand_switch) break;
        }
}

void find_joined_halves(const Net& net, Findings& out) {
    std::set<NodeId> told;
    for (const ChangeOver& c : change_overs(net)) {
        const std::vector<BranchId> wires = fed_wires(net, c);
        if (net.budget_exhausted() || wires.size() < 2 || !told.insert(c.shared).second) continue;
        std::vector<std::string> names;
        for (const BranchId b : wires) names.push_back(name_of_part(net.branch(b)));
        const Branch& make = net.branch(c.make);
        out.push_back({FindingKind::changeover_joins, make.place, make.pointer,
                       listed(names) + " are joined at the end that both halves of the change-over contact " +
                           part_of_branch(make) + " share, and each has plus by itself",
                       "what one of them feeds keeps its power from the other, although its own fuse or switch is open",
                       "take two contacts that share nothing; where two feeds lead to one outlet, name the ends "
                       "(lanyard help wiring)"});
    }
}

}  // namespace lanyard::circuit
