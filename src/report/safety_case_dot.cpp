#include <optional>
#include <set>

#include "base/characters.hpp"
#include "report/dot.hpp"
#include "report/layout.hpp"
#include "report/safety_case.hpp"

namespace lanyard::report {

namespace {

using Kind = SafetyCase::Kind;
using Element = SafetyCase::Element;
using Relation = SafetyCase::Relation;

// Shapes of the notation: goal a rectangle, strategy a parallelogram, solution a circle, context a rectangle with round
// ends, assumption and justification ellipses with their letter beside.
const char* shape_of(Kind kind) {
    switch (kind) {
        case Kind::goal:
            return "shape=box";
        case Kind::strategy:
            return "shape=parallelogram";
        case Kind::solution:
            return "shape=circle";
        case Kind::context:
            return "shape=box, style=rounded";
        case Kind::assumption:
            return "shape=ellipse, xlabel=\"A\"";
        case Kind::justification:
            return "shape=ellipse, xlabel=\"J\"";
    }
    return "";
}

// Support is a solid line with a filled head, context one with a hollow head, a challenge a broken line.
const char* arrow_of(Relation relation) {
    switch (relation) {
        case Relation::supported_by:
            return "arrowhead=normal";
        case Relation::in_context_of:
            return "arrowhead=empty";
        case Relation::challenged_by:
            return "style=dashed, label=\"challenges\", dir=back, arrowtail=vee";
    }
    return "";
}

constexpr std::size_t widest_label = 36;

// A hash is longer than a line.
std::string broken_up(const std::string& text) {
    std::string out;
    std::size_t length = 0;
    for (const char c : text) {
        length = c == ' ' ? 0 : length + 1;
        if (length > widest_label && !continues_character(c)) {
            out += ' ';
            length = 1;
        }
        out += c;
    }
    return out;
}

std::string node(const Element& e, std::size_t number) {
    std::string label = e.id;
    if (e.has_standing() && e.standing != SafetyCase::Standing::met) label += ": " + standing_name(e.standing);
    for (const auto& line : lines_of(broken_up(e.statement), widest_label)) label += '\n' + line;
    const std::string name = "n" + std::to_string(number);
    std::string out = "  " + name + " [label=" + dot_label(label) + ", " + shape_of(e.kind) + "];\n";
    if (e.undeveloped)  // a hollow diamond below
        out += "  " + name + "u [label=\"\", shape=diamond, width=0.25, height=0.25];\n  " + name + " -> " + name +
               "u [dir=none, len=0.1];\n";
    return out;
}

std::string link(std::size_t from, std::size_t to, const std::string& how) {
    return "  n" + std::to_string(from) + " -> n" + std::to_string(to) + " [" + how + "];\n";
}

// What stands beside an element is a column: side by side a dozen assumptions would make the page too wide to read.
std::string links_of(const SafetyCase& c, std::size_t index, std::set<std::size_t>& placed) {
    std::string out;
    std::optional<std::size_t> above;
    for (const auto& [relation, to] : c.elements[index].links) {
        std::string how = arrow_of(relation);
        if (relation == Relation::in_context_of) {
            const bool is_new = placed.insert(to).second;
            if (!is_new || above) how += ", constraint=false";
            if (is_new && above) out += link(*above, to, "style=invis");
            if (is_new) above = to;
        }
        out += link(index, to, how);
    }
    return out;
}

}  // namespace

std::string safety_case_dot(const SafetyCase& c, const std::string& title) {
    std::string out = "digraph safety_case {\n  label=" + dot_label(title) + ";\n  node [fontname=\"sans-serif\"];\n";
    for (std::size_t k = 0; k < c.elements.size(); ++k) out += node(c.elements[k], k);
    std::set<std::size_t> placed;
    for (std::size_t k = 0; k < c.elements.size(); ++k) out += links_of(c, k, placed);
    return out + "}\n";
}

}  // namespace lanyard::report
