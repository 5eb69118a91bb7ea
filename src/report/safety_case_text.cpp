#include <set>

#include "report/layout.hpp"
#include "report/safety_case.hpp"

namespace lanyard::report {

namespace {

using Element = SafetyCase::Element;
using Relation = SafetyCase::Relation;

std::string head_of(const Element& e, Relation relation) {
    std::string out = e.id + ' ' + kind_name(e.kind);
    if (relation == Relation::challenged_by) out += " that challenges it";
    if (e.has_standing()) out += ", " + standing_name(e.standing);
    if (e.undeveloped) out += ", undeveloped";
    return out + ": ";
}

class Outline {
 public:
    explicit Outline(const SafetyCase& c) : case_(c) {}

    void tell(std::size_t index, std::size_t depth, Relation relation) {
        const Element& e = case_.elements[index];
        const bool again = !told_.insert(index).second;
        const std::string indent(2 * depth, ' ');
        const std::string text =
            again ? e.id + ' ' + kind_name(e.kind) + ", see above" : head_of(e, relation) + e.statement;
        std::string hang;
        for (const auto& line : lines_of(text, line_width - 2 * depth - 4)) {
            out_ += indent + hang + line + '\n';
            hang = "    ";
        }
        if (!again)
            for (const auto& [to_it, to] : e.links) tell(to, depth + 1, to_it);
    }
    const std::string& text() const { return out_; }

 private:
    const SafetyCase& case_;
    std::set<std::size_t> told_;
    std::string out_;
};

}  // namespace

std::string safety_case_text(const SafetyCase& c) {
    Outline outline(c);
    if (!c.elements.empty()) outline.tell(0, 0, Relation::supported_by);
    return outline.text();
}

}  // namespace lanyard::report
