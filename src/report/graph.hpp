// What feeds what in a model, as a plain value: a node a signal, an edge from each signal to those that are directly
// made of it. The wiring is one node between what switches and drives it and what it feeds: which way a current takes
// is a question for `lanyard findings` and for stories.
#pragma once

#include <string>
#include <vector>

#include "model/model.hpp"

namespace lanyard::report {

struct SignalGraph {
    struct Node {
        SignalId signal;  // none: the wiring
        std::string name;
        std::string terminal;  // of the controller; may be empty
    };
    struct Edge {
        std::size_t from = 0, to = 0;  // in `nodes`
        bool a_scan_later = false;
    };
    std::vector<Node> nodes;  // in the order of the model
    std::vector<Edge> edges;
};

// Of what can have a say in the claim; without one, of all of the model.
SignalGraph signal_graph(const Model& model, ClaimId claim);

// For Graphviz.
std::string signal_graph_dot(const Model& model, const SignalGraph& graph);

}  // namespace lanyard::report
