#include "page/safety_case_svg.hpp"

#include <algorithm>
#include <set>
#include <vector>

#include "page/markup.hpp"
#include "page/svg.hpp"

namespace lanyard::page {

namespace {

using Kind = SafetyCase::Kind;
using Element = SafetyCase::Element;
using Relation = SafetyCase::Relation;

constexpr int strip_width = 1000;
constexpr int left = 8;
constexpr int indent = 34;
constexpr int shape_width = 370;
constexpr int beside_x = 590;
constexpr int beside_width = 400;
constexpr int text_height = 16;
constexpr int gap = 12;
constexpr int circle = 24;

// Lines of text in a shape, the id first.
std::string lines_at(int x, int y, const std::string& head, const std::vector<std::string>& lines) {
    std::string out = label("gsn-id", x, y, head);
    for (const auto& l : lines) out += label("gsn-text", x, y += text_height, l);
    return out;
}

int height_of(const std::vector<std::string>& lines) { return static_cast<int>(lines.size() + 1) * text_height + 14; }

std::string head_of(const Element& e) {
    const bool met = !e.has_standing() || e.standing == SafetyCase::Standing::met;
    return e.id + (met ? "" : ": " + standing_name(e.standing));
}

std::string shape_class(const Element& e) {
    if (!e.has_standing()) return "gsn";
    return e.standing == SafetyCase::Standing::met    ? "gsn met"
           : e.standing == SafetyCase::Standing::open ? "gsn open"
                                                      : "gsn not-met";
}

class Strips {
 public:
    explicit Strips(const SafetyCase& c) : c_(c) {}

    std::string draw() {
        if (!c_.elements.empty()) strip(0, 0, Relation::supported_by, {}, true);
        return std::move(out_);
    }

 private:
    struct Strip {
        std::string content;
        int height = 0;
    };
    const SafetyCase& c_;
    std::string out_;
    std::set<std::size_t> told_;

    static int shape_x(std::size_t depth) { return left + static_cast<int>(depth) * indent; }
    static int trunk_x(std::size_t depth) { return shape_x(depth) + 14; }

    std::vector<std::pair<Relation, std::size_t>> below(std::size_t index) const {
        std::vector<std::pair<Relation, std::size_t>> out;
        for (const auto& l : c_.elements[index].links)
            if (l.first != Relation::in_context_of) out.push_back(l);
        return out;
    }

    // `goes_on`: for each depth above, whether more follows there.
    void strip(std::size_t index, std::size_t depth, Relation relation, std::vector<bool> goes_on, bool last) {
        const Element& e = c_.elements[index];
        const auto children = below(index);
        const Strip own = shape(e, depth);
        const Strip side = beside(e, gap + own.height / 2);
        const int height = std::max(side.height, own.height + (e.undeveloped ? 14 : 0)) + 2 * gap;
        const int middle = gap + own.height / 2;
        std::string lines;
        for (std::size_t d = 0; d + 1 < depth; ++d)
            if (goes_on[d]) lines += line("gsn-line", trunk_x(d), 0, trunk_x(d), height);
        if (depth > 0) lines += arrow(depth, middle, relation, last ? middle : height);
        if (!children.empty()) lines += line("gsn-line", trunk_x(depth), gap + own.height, trunk_x(depth), height);
        if (!side.content.empty())
            lines += line("gsn-line", shape_x(depth) + shape_width, middle, beside_x - 24, middle);
        if (e.undeveloped)
            lines += path("gsn", "M" + point(trunk_x(depth) + 60, gap + own.height) + " l8 7 l-8 7 l-8 -7 z");
        const std::string title =
            kind_name(e.kind) + " " + head_of(e) + (e.undeveloped ? ", undeveloped" : "") + ": " + e.statement;
        out_ += svg("gsn-" + e.id, "strip", strip_width, height, title, lines + own.content + side.content);
        if (depth > 0) goes_on[depth - 1] = !last;
        goes_on.push_back(true);
        for (std::size_t k = 0; k < children.size(); ++k)
            strip(children[k].second, depth + 1, children[k].first, goes_on, k + 1 == children.size());
    }

    // From the trunk of what stands above; a filled head supports, a broken line challenges.
    static std::string arrow(std::size_t depth, int middle, Relation relation, int trunk_end) {
        const int from = trunk_x(depth - 1), to = shape_x(depth);
        const std::string trunk = line("gsn-line", from, 0, from, trunk_end);
        if (relation == Relation::challenged_by)
            return trunk + line("gsn-line challenge", from, middle, to, middle) +
                   path("gsn-head hollow", "M" + point(from + 8, middle - 4) + " l-8 4 l8 4");
        return trunk + line("gsn-line", from, middle, to, middle) +
               path("gsn-head", "M" + point(to - 8, middle - 4) + " l8 4 l-8 4 z");
    }

    static Strip shape(const Element& e, std::size_t depth) {
        const int x = shape_x(depth);
        if (e.kind == Kind::solution) {
            const auto lines = wrapped(e.statement, shape_width - 2 * circle - 10);
            const int height = std::max(2 * circle, static_cast<int>(lines.size()) * text_height + 8);
            const int y = gap + height / 2;
            std::string out = "<circle class=\"gsn\" cx=\"" + std::to_string(x + circle) + "\" cy=\"" +
                              std::to_string(y) + "\" r=\"" + std::to_string(circle) + "\"/>" +
                              label("gsn-id middle", x + circle, y + 4, e.id);
            int at = gap + (height - static_cast<int>(lines.size()) * text_height) / 2 - 4;
            for (const auto& l : lines) out += label("gsn-text", x + 2 * circle + 8, at += text_height, l);
            return {out, height};
        }
        const auto lines = wrapped(e.statement, shape_width - 34);
        const int height = height_of(lines);
        const std::string outline =
            e.kind == Kind::strategy
                ? path(shape_class(e), "M" + point(x + 12, gap) + " L" + point(x + shape_width, gap) + " L" +
                                           point(x + shape_width - 12, gap + height) + " L" + point(x, gap + height) +
                                           " z")
                : box(shape_class(e), x, gap, shape_width, height);
        return {outline + lines_at(x + 16, gap + 20, head_of(e), lines), height};
    }

    // `middle`: of the element that it stands beside.
    Strip beside(const Element& e, int middle) {
        Strip out;
        std::string known;
        int y = gap;
        for (const auto& [relation, to] : e.links) {
            if (relation != Relation::in_context_of) continue;
            const Element& other = c_.elements[to];
            if (!told_.insert(to).second) {
                known += (known.empty() ? "" : ", ") + other.id;
                continue;
            }
            const int height = beside_shape(other, y, out.content);
            out.content += hollow_arrow(y + height / 2, middle);
            y += height + 8;
        }
        if (!known.empty()) {
            if (out.content.empty()) y = middle - text_height + 4;
            for (const auto& l : wrapped("also " + known, beside_width))
                out.content += label("gsn-text", beside_x - 18, y += text_height, l);
            y += 8;
        }
        out.height = out.content.empty() ? 0 : y - gap;
        return out;
    }

    static int beside_shape(const Element& e, int y, std::string& content) {
        if (e.kind != Kind::context) return ellipse(e, y, content);
        const auto lines = wrapped(e.statement, beside_width - 36);
        const int height = height_of(lines);
        content += box("gsn", beside_x, y, beside_width, height, 16) + lines_at(beside_x + 18, y + 20, e.id, lines);
        return height;
    }

    // A proof may stand on a dozen of them: the id stands in the line.
    static int ellipse(const Element& e, int y, std::string& content) {
        auto lines = wrapped(e.id + ": " + e.statement, beside_width - 40);
        if (lines.size() > 1) lines = wrapped(e.id + ": " + e.statement, beside_width - 110);
        const int count = static_cast<int>(lines.size());
        const int height = count * text_height + (count == 1 ? 20 : 36);
        const int middle = beside_x + beside_width / 2;
        content += "<ellipse class=\"gsn\" cx=\"" + std::to_string(middle) + "\" cy=\"" +
                   std::to_string(y + height / 2) + "\" rx=\"" + std::to_string(beside_width / 2) + "\" ry=\"" +
                   std::to_string(height / 2) + "\"/>" +
                   label("gsn-id", beside_x + beside_width - 14, y + height, e.kind == Kind::assumption ? "A" : "J");
        int at = y + (height - count * text_height) / 2 - 4;
        for (const auto& l : lines) content += label("gsn-text middle", middle, at += text_height, l);
        return height;
    }

    static std::string hollow_arrow(int y, int from) {
        return line("gsn-line", beside_x - 24, from, beside_x - 24, y) +
               line("gsn-line", beside_x - 24, y, beside_x - 8, y) +
               path("gsn-head hollow", "M" + point(beside_x - 8, y - 4) + " l8 4 l-8 4 z");
    }
};

}  // namespace

std::string safety_case_drawing(const SafetyCase& c) {
    const std::string strips = Strips(c).draw();
    if (strips.empty()) return "";
    return tag("p",
               "Goals, strategies, solutions and what they rest on, in Goal Structuring Notation. A filled arrow "
               "supports, a hollow one gives context, a broken line challenges; a diamond below marks what nothing "
               "supports yet.") +
           "\n" +
           tag("div class=\"wide strips\" tabindex=\"0\" role=\"region\" aria-label=\"Safety case\"", "\n" + strips) +
           "\n";
}

}  // namespace lanyard::page
