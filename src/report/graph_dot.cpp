#include "base/characters.hpp"
#include "report/dot.hpp"
#include "report/graph.hpp"
#include "report/words.hpp"

namespace lanyard::report {

namespace {

// What a node is, told by its shape and in words, and never by a colour.
struct Look {
    const char* words;
    const char* shape;
};

Look look_of(SignalKind kind) {
    switch (kind) {
        case SignalKind::quantity:
            return {"quantity", "ellipse"};
        case SignalKind::position:
            return {"switch", "ellipse"};
        case SignalKind::seen:
            return {"seen", "cds"};
        case SignalKind::reading:
            return {"reading", "cds"};
        case SignalKind::loop:
            return {"read back", "cds"};
        case SignalKind::wired:
            return {"input", "cds"};
        case SignalKind::logic:
            return {"logic", "box"};
        case SignalKind::output:
            return {"output", "house"};
        case SignalKind::contact:
            return {"contact", "diamond"};
        case SignalKind::load:
            return {"load", "octagon"};
        case SignalKind::node:
            return {"node", "plain"};
        case SignalKind::fault:
            return {"fault", "triangle"};
        case SignalKind::mode:
            return {"mode", "doubleoctagon"};
        case SignalKind::powered:
            return {"controller", "box3d"};
    }
    return {"", "box"};
}

std::string node_line(const Model& m, const SignalGraph::Node& n, std::size_t number) {
    const bool wiring = !n.signal;
    const Look look = wiring ? Look{"", "box3d"} : look_of(m.signal(n.signal).kind);
    std::string text = sanitize_for_terminal(n.name);
    if (!wiring) text += std::string("\n") + look.words;
    if (!n.terminal.empty()) text += " " + sanitize_for_terminal(n.terminal);
    return "  n" + std::to_string(number) + " [label=" + dot_label(text) + ", shape=" + look.shape + "];\n";
}

}  // namespace

std::string signal_graph_dot(const Model& m, const SignalGraph& g) {
    std::string out = "digraph model {\n  label=" + dot_label(sanitize_for_terminal(m.name) + "\nSHA-256 " + m.sha256) +
                      ";\n  rankdir=LR;\n  node [fontname=\"sans-serif\"];\n";
    for (std::size_t k = 0; k < g.nodes.size(); ++k) out += node_line(m, g.nodes[k], k);
    for (const auto& e : g.edges)
        out += "  n" + std::to_string(e.from) + " -> n" + std::to_string(e.to) +
               (e.a_scan_later ? " [style=dashed, label=\"a scan later\"]" : "") + ";\n";
    return out + "}\n";
}

}  // namespace lanyard::report
