// Single numbers and intervals, as they stand in ranges, times and accuracies.

#include "lang/checker.hpp"
#include "lang/parser.hpp"
#include "lang/words.hpp"

namespace lanyard::lang {

namespace {

Unit plain_unit() { return default_unit({}); }

const char* const interval_form = "write two numbers with two points between them: 0.5 .. 2 s";

// Nothing may stand behind the number.
bool ends(const Parser& parser, TextReport& report) {
    if (parser.at_end()) return !report.failed();
    const Token& t = parser.now();
    if (!report.failed() && t.is_sign(".."))
        report.error("syntax-number", t.span, "a single value is expected here, not an interval", "",
                     "write one number with its unit");
    else if (!report.failed())
        report.error("syntax-number", t.span,
                     "after the number comes " + report.quote(t.span) + ", which has no meaning here", "",
                     t.is_sign(",") ? "use a point for decimals: 1.5" : "write only a number and its unit");
    return false;
}

// The value in SI, or nothing after a report.
std::optional<Rational> value_of(const SyntaxNode& node, const Dimension& wanted, bool difference,
                                 const std::string& what_for, TextReport& report) {
    if (!node.unknown_unit.empty()) {
        report_unknown_unit(report, node);
        return std::nullopt;
    }
    const Unit unit = node.unit.value_or(plain_unit());
    if (unit.dimension == wanted) return to_si(node.number, unit, difference);
    const Type type = Type::number(wanted, difference);
    if (unit.dimension.is_plain())
        report.error("unit-missing", node.span, report.quote(node.span) + " has no unit",
                     what_for + " is " + describe(type), "write it with one: " + unit_example(type, node.text));
    else
        report.error(
            "wrong-unit", node.span,
            report.quote(node.span) + " is " + describe(Type::number(unit.dimension, true)) + ", but " + what_for +
                " is " + describe(type),
            "", wanted.is_plain() ? "write a number without a unit" : "write it like this: " + unit_example(type, "1"));
    return std::nullopt;
}

// "0.5 .. 2 s": a unit that stands only at the end counts for both, and what is wrong with it is told once.
std::optional<Interval> interval_of(IntervalNodes& nodes, const Dimension& wanted, bool difference,
                                    const std::string& what_for, TextReport& report) {
    const SyntaxNode& lo = *nodes.lo;
    SyntaxNode& hi = *nodes.hi;
    const Span both = join(lo.span, hi.span);
    const bool shared = !lo.unit && lo.unknown_unit.empty();
    const bool no_unit = shared && !hi.unit && hi.unknown_unit.empty();
    if (no_unit) {
        hi.span = both;
        hi.text = lo.text + " .. " + hi.text;
    }
    std::optional<Rational> from;
    if (!shared) from = value_of(lo, wanted, difference, what_for, report);
    const auto to = value_of(hi, wanted, difference, what_for, report);
    if (!to) return std::nullopt;
    if (shared) from = to_si(lo.number, hi.unit.value_or(plain_unit()), difference);
    if (!from) return std::nullopt;
    if (*from <= *to) return Interval{*from, *to};
    report.error("interval-order", both, "the interval for " + what_for + " ends below its beginning", "",
                 "write the smaller number first");
    return std::nullopt;
}

}  // namespace

void report_unknown_unit(TextReport& report, const SyntaxNode& literal) {
    const std::string meant = unit_meant_by(literal.unknown_unit);
    report.error("unknown-unit", literal.head, "there is no unit " + report.quote(literal.head), "",
                 meant.empty() ? "see `lanyard help units` for the units that exist" : "did you mean `" + meant + "`?");
}

NodePtr parse_number_text(TextReport& report) {
    Parser parser(report);
    if (parser.at_end()) {
        if (!report.failed())
            report.error("syntax-number", parser.now().span, "there is no number here", "",
                         "write a number with its unit");
        return nullptr;
    }
    NodePtr node = parser.signed_literal();
    return node && ends(parser, report) ? std::move(node) : nullptr;
}

std::optional<IntervalNodes> parse_interval_text(TextReport& report) {
    Parser parser(report);
    auto nodes = parser.interval();
    if (!nodes || !ends(parser, report)) return std::nullopt;
    return nodes;
}

std::optional<IntervalNodes> Parser::interval() {
    IntervalNodes nodes;
    nodes.lo = signed_literal();
    if (!nodes.lo) return std::nullopt;
    if (!now().is_sign("..")) {
        if (!report_.failed())
            report_.error("syntax-interval", here(), "an interval is expected here", "", interval_form);
        return std::nullopt;
    }
    take();
    nodes.hi = signed_literal();
    if (!nodes.hi) return std::nullopt;
    return nodes;
}

std::optional<NumberWithUnit> compile_number(const LocatedText& text, const Dimension& wanted, bool difference,
                                             const std::string& what_for, Diagnostics& out) {
    TextReport report(text, out);
    const NodePtr node = parse_number_text(report);
    if (!node) return std::nullopt;
    const auto value = value_of(*node, wanted, difference, what_for, report);
    if (!value) return std::nullopt;
    return NumberWithUnit{*value, node->unit.value_or(plain_unit()), node->text};
}

std::optional<Interval> compile_interval(const LocatedText& text, const Dimension& wanted, bool difference,
                                         const std::string& what_for, Diagnostics& out) {
    TextReport report(text, out);
    auto nodes = parse_interval_text(report);
    if (!nodes) return std::nullopt;
    return interval_of(*nodes, wanted, difference, what_for, report);
}

std::optional<std::pair<Interval, Unit>> compile_interval(const LocatedText& text, const std::string& what_for,
                                                          Diagnostics& out) {
    TextReport report(text, out);
    auto nodes = parse_interval_text(report);
    if (!nodes) return std::nullopt;
    for (const NodePtr* end : {&nodes->lo, &nodes->hi})
        if (!(*end)->unknown_unit.empty()) report_unknown_unit(report, **end);
    if (report.failed()) return std::nullopt;
    const Unit unit = nodes->hi->unit.value_or(nodes->lo->unit.value_or(plain_unit()));
    const auto interval = interval_of(*nodes, unit.dimension, false, what_for, report);
    if (!interval) return std::nullopt;
    return std::pair{*interval, unit};
}

}  // namespace lanyard::lang
