#include "page/scheme_svg.hpp"

#include <algorithm>

#include "base/characters.hpp"
#include "page/markup.hpp"
#include "page/svg.hpp"
#include "report/words.hpp"

namespace lanyard::page {

namespace {

constexpr int margin = 112;  // for what feeds
constexpr int cell = 136;
constexpr int row_height = 68;  // names above a symbol clear the words below the one over it
constexpr int top = 34;
constexpr int end_width = 112;  // for what stands at an end
constexpr int words_below = 25;
constexpr int names_above = 24;  // clear of the tallest symbol

// Symbols of parts, around a point. Fuse, ground and coil follow IEC 60617 in their outlines (from memory); what is on
// or closed differs from what is not in its shape, not in its colour alone.

constexpr int symbol_half = 22;  // half of what a symbol takes of its line

std::string leads(int x, int y, int half) {
    return path("lead", "M" + point(x - symbol_half, y) + " L" + point(x - half, y) + " M" + point(x + half, y) + " L" +
                            point(x + symbol_half, y));
}

std::string dot(int x, int y) {
    return "<circle class=\"dot\" cx=\"" + std::to_string(x) + "\" cy=\"" + std::to_string(y) + "\" r=\"3\"/>";
}

// A lever between two points; one of the two shapes is shown.
std::string lever(int x, int y) {
    return dot(x - 14, y) + dot(x + 14, y) + path("if-open", "M" + point(x - 14, y) + " l24 -13") +
           path("if-closed", "M" + point(x - 14, y) + " l28 0");
}

std::string broken(int x, int y) { return path("if-open", "M" + point(x - 6, y - 6) + " l12 12 m0 -12 l-12 12"); }

std::string symbol(BranchKind kind, int x, int y) {
    switch (kind) {
        case BranchKind::pole:
        case BranchKind::contact:
            return leads(x, y, 16) + lever(x, y);
        case BranchKind::output:  // a switch inside of the controller
            return box("shell", x - symbol_half, y - 17, 2 * symbol_half, 26, 3) + leads(x, y, 16) + lever(x, y);
        case BranchKind::fuse:
            return leads(x, y, 16) + box("shell", x - 16, y - 6, 32, 12) +
                   path("if-closed", "M" + point(x - 16, y) + " l32 0") + broken(x, y);
        case BranchKind::diode:
            return leads(x, y, 9) + path("shell", "M" + point(x - 9, y - 8) + " l0 16 l16 -8 z m17 -1 l0 18") +
                   broken(x, y);
        case BranchKind::load:
            return box("shell", x - symbol_half, y - 10, 2 * symbol_half, 20, 10) +
                   path("if-closed", "M" + point(x - 10, y) + " l7 5 l13 -10");
        case BranchKind::coil:
            return leads(x, y, 16) + box("shell", x - 16, y - 9, 32, 18) +
                   path("if-closed", "M" + point(x - 9, y + 9) + " l18 -18");
        case BranchKind::winding:
            return leads(x, y, 16) + path("shape", "M" + point(x - 16, y) + " q5 -12 10 0 q5 -12 10 0 q5 -12 12 0");
        case BranchKind::terminal:
            return leads(x, y, 7) + path("shell", "M" + point(x - 7, y - 6) + " l5 6 l-5 6 m6 -12 l5 6 l-5 6") +
                   broken(x, y);
        case BranchKind::wire:
        case BranchKind::stray:
            return leads(x, y, 10) + path("if-closed", "M" + point(x - 10, y) + " l20 0") + broken(x, y);
    }
    return "";
}

std::string source_symbol(bool turns, int x, int y) {
    if (turns)
        return "<circle class=\"shell\" cx=\"" + std::to_string(x) + "\" cy=\"" + std::to_string(y) + "\" r=\"13\"/>" +
               path("shape", "M" + point(x - 7, y) + " q3 -9 7 0 t7 0");
    return path("plates", "M" + point(x - 6, y - 5) + " l0 10 M" + point(x + 2, y - 12) + " l0 24") +
           path("lead", "M" + point(x + 2, y) + " l11 0") +
           path("shape", "M" + point(x + 8, y - 10) + " l6 0 m-3 -3 l0 6");
}

std::string ground_symbol(int x, int y) {
    return path("lead", "M" + point(x, y) + " l8 0") +
           path("earth", "M" + point(x + 8, y - 9) + " l0 18 m4 -14 l0 10 m4 -7 l0 4");
}

class Drawing {
 public:
    Drawing(const Model& m, const Scheme& s) : m_(m), s_(s) {}

    std::string draw(const std::string& id, const std::string& title) {
        std::string lines, parts;
        for (const auto& net : s_.nets) {
            if (!is_drawn(net)) continue;
            lines += net_lines(net);
            if (net.root) parts += root(s_.parts[net.root]);
            for (const PartId p : net.parts) parts += part(s_.parts[p], net);
        }
        const int width = margin + s_.columns * cell + end_width;
        const int height = top + (s_.rows - 1) * row_height + 38;
        return svg(id, "scheme", width, height, title, lines + parts);
    }

 private:
    const Model& m_;
    const Scheme& s_;

    static int x(int column) { return margin + column * cell; }
    static int y(int row) { return top + row * row_height; }
    // Only what hangs on something that feeds has a place.
    bool is_drawn(const SchemeNet& net) const {
        if (net.root) return true;
        return std::any_of(s_.parts.begin(), s_.parts.end(),
                           [&](const SchemePart& p) { return p.far && &s_.nets[p.far] == &net; });
    }
    static int middle(const SchemeNet& near) { return x(near.column) + cell / 2; }

    // All of a net has one potential: its trunk, the beginnings of its parts, the end of the part that leads to it.
    std::string net_lines(const SchemeNet& net) const {
        int last = net.row;
        std::string way;
        for (const PartId p : net.parts) {
            const SchemePart& part = s_.parts[p];
            last = std::max(last, part.row);
            way += "M" + point(x(net.column), y(part.row)) + " L" + point(middle(net) - symbol_half, y(part.row)) + " ";
        }
        if (last > net.row) way += "M" + point(x(net.column), y(net.row)) + " L" + point(x(net.column), y(last)) + " ";
        way +=
            "M" + point(x(net.column) - (cell / 2 - symbol_half), y(net.row)) + " L" + point(x(net.column), y(net.row));
        std::string out = path("wire", way);
        if (last > net.row) out += box("joint", x(net.column) - 3, y(net.row) - 3, 6, 6);
        if (!net.name.empty()) out += fitted_label("net-name middle", x(net.column), y(net.row) - 7, net.name, 92);
        return changing("net", net.states, out) + trunk_flow(net) + "\n";
    }

    // The pieces of its trunk over which current flows at some moment.
    static std::string trunk_flow(const SchemeNet& net) {
        std::string out;
        int above = net.row;
        for (const auto& [row, states] : net.trunk) {
            if (states.find('2') != std::string::npos)
                out +=
                    changing("trunk", states,
                             path("flow", "M" + point(x(net.column), y(above)) + " L" + point(x(net.column), y(row))));
            above = row;
        }
        return out;
    }

    std::string state_words(const SchemePart& p, int at_x, int at_y) const {
        const std::string all = joined(p.words, "|");
        const bool same = std::all_of(p.words.begin(), p.words.end(), [&](const auto& w) { return w == p.words[0]; });
        if (same && p.words[0] == "whole") return "";
        return label("state", at_x, at_y, p.words.back(), same ? "" : attribute("data-w", all));
    }

    std::string root(const SchemePart& p) const {
        const int at = x(0) - 60;
        std::string out;
        if (p.end == End::source) {
            const Source& s = m_.circuit.sources[p.index];
            out = source_symbol(s.turns, at, y(p.row)) +
                  fitted_label("part-name", 2, y(p.row) - names_above, s.name, margin - 10);
        } else {
            out = box("shell", at - 24, y(p.row) - 10, 46, 20, 3) +
                  fitted_label("part-name", 2, y(p.row) - names_above, end_name(p), margin - 10);
        }
        return changing("part", p.states,
                        out + path("lead", "M" + point(at + 13, y(p.row)) + " L" + point(x(0), y(p.row))) +
                            state_words(p, at, y(p.row) + words_below)) +
               "\n";
    }

    std::string end_name(const SchemePart& p) const {
        return m_.name_of(p.end == End::magneto ? m_.loads[p.index].signal : m_.wired_inputs[p.index].signal);
    }

    // What hangs on a net without leading on.
    std::string hanging(const SchemePart& p, int at) const {
        const int row = y(p.row);
        if (p.end == End::source) {
            const Source& s = m_.circuit.sources[p.index];
            return path("lead", "M" + point(at - symbol_half, row) + " l8 0") + source_symbol(s.turns, at, row) +
                   label("part-name middle", at, row - names_above, s.name);
        }
        return box("shell", at - symbol_half, row - 10, 2 * symbol_half, 20, 3) +
               fitted_label("part-name middle", at, row - names_above, end_name(p), cell - 10);
    }

    std::string part(const SchemePart& p, const SchemeNet& near) const {
        const int at = middle(near), row = y(p.row);
        std::string out;
        if (!p.branch) {
            out = hanging(p, at) + flow(p, near);
        } else {
            const Branch& b = m_.circuit.branches[p.branch];
            out = symbol(b.kind, at, row) + fitted_label("part-name middle", at, row - names_above, b.name, cell - 8) +
                  flow(p, near) + end(p, at + cell / 2, row);
        }
        return changing("part", p.states, out + state_words(p, at, row + words_below)) + "\n";
    }

    // The lines from the trunk to it and on from it, shown while current flows.
    static std::string flow(const SchemePart& p, const SchemeNet& near) {
        const int at = middle(near), row = y(p.row);
        std::string way = "M" + point(x(near.column), row) + " L" + point(at - symbol_half, row);
        if (p.branch) way += " M" + point(at + symbol_half, row) + " L" + point(at + cell / 2, row);
        return path("flow", way);
    }

    std::string end(const SchemePart& p, int at, int row) const {
        if (p.end == End::net) return "";
        const std::string on = path("tail", "M" + point(at - (cell / 2 - symbol_half), row) + " L" + point(at, row));
        if (p.end == End::ground)
            return on + ground_symbol(at, row) +
                   (p.end_name.empty() ? "" : fitted_label("net-name", at + 28, row + 4, p.end_name, end_width - 28));
        return on + path("shape", "M" + point(at, row - 4) + " l7 4 l-7 4") +
               fitted_label("net-name", at + 12, row + 4, p.end_name.empty() ? "see above" : "to " + p.end_name,
                            end_width - 12);
    }
};

}  // namespace

std::string scheme_svg(const Model& m, const Scheme& s, const std::string& id, const std::string& title) {
    return s.is_empty() ? "" : Drawing(m, s).draw(id, title);
}

}  // namespace lanyard::page
