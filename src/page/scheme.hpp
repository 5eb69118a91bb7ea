// The wiring that matters in a run, as a drawing in whole cells: from what feeds, on the left, through switches, fuses
// and loads to the ground.
//
// What it decides: which parts are drawn and in which cell each stands. Where plus or ground can come from to the loads
// that are asked about is known to circuit/ways.hpp; a relay's contact on such a way brings its coil and the coil's
// ways. Nodes that are joined by whole wires are one net, drawn as one line. Nets are laid out as a tree: from the
// battery, each net is reached by the shortest way that passes the fewest loads (Dijkstra, Numerische Mathematik 1,
// 1959). A part that joins two nets of the tree otherwise ends in the name of the other one, one that leads to the
// ground in its sign, beside which its own wire is named. A tree's first branch goes straight on and each further one
// takes the next free row, so no lines cross and the drawing is the same on any machine.
//
// When it gives up: a wiring of more parts than can be read is not drawn.
// Tested by: tests/page/page_test.py, tests/page/browser_test.py
#pragma once

#include <map>
#include <set>
#include <string>
#include <vector>

#include "report/film.hpp"
#include "report/moments.hpp"

namespace lanyard::page {

enum class End { net, ground, other_net, source, input, magneto };

struct SchemeNet;
struct SchemePart;
using NetId = Id<SchemeNet>;
using PartId = Id<SchemePart>;

struct SchemePart {
    BranchId branch;   // none: what feeds, an input of the controller, a magneto
    AnyId index;       // then: source, wired input, load
    NetId near;        // to the left
    NetId far;         // to the right; none: it ends there
    NetId other = {};  // of End::other_net: which
    End end = End::net;
    std::string end_name = {};  // of the ground point, of the other net
    int row = 0;
    std::string states = {};              // per moment: 0 off or open, 1 on or closed, 2 current flows
    std::vector<std::string> words = {};  // per moment: "open", "powered" ...
};

struct SchemeNet {
    std::string name;  // empty: it has no name of its own
    NodeId node;       // one of its nodes
    int column = 0;
    int row = 0;
    PartId root = {};                // what feeds it: the tree begins here; none: it does not
    std::vector<PartId> parts = {};  // that begin here
    std::string states = {};         // per moment: n nothing, p plus, g ground, b shorted
    // Of its trunk, from where a part joins it to the next one below: per moment, 2 current flows, 0 it does not.
    std::map<int, std::string> trunk = {};  // by the row at which the piece ends
};

struct Scheme {
    Indexed<SchemeNet> nets;
    Indexed<SchemePart> parts;
    Indexed<Node, NetId> net_at;
    int columns = 0, rows = 0;
    bool is_empty() const { return parts.empty(); }
};

// `asked`: loads, inputs and contacts that matter.
Scheme scheme_of(const report::Film& film, const std::vector<report::Moment>& moments, const std::set<SignalId>& asked);

}  // namespace lanyard::page
