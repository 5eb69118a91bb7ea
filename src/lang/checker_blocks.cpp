// The part of the checker that handles blocks: elements with memory, whose inputs are those of their row, votes,
// comparators, tables.

#include "base/suggest.hpp"
#include "lang/checker.hpp"
#include "lang/words.hpp"

namespace lanyard::lang {

namespace {

// Eleven days; beyond it somebody has mistaken the unit.
const Rational longest_time{1000000};
constexpr long most_counts = 1000000;

Type result_of(OpClass kind, const std::vector<ExprPtr>& args) {
    if (kind == OpClass::previous) return args[0]->type;
    if (kind == OpClass::rate) return Type::number(args[0]->type.dimension / find_unit("s")->dimension, true);
    return Type::boolean();
}

}  // namespace

Checked Checker::memory(const SyntaxNode& node) {
    const OperatorRow& row = row_of(node.op);
    Expr given;
    given.op = node.op;
    bool fine = true;
    for (std::size_t k = 0; k < node.args.size(); ++k) fine = input(*node.args[k], row.inputs[k], given) && fine;
    if (!fine) return {};
    auto e = element(node.op, node, result_of(row.kind, given.args), given.args);
    e->value = given.value;
    e->count = given.count;
    e->written = given.written;
    return {e, std::nullopt};
}

// One input, put where an Expr has it.
bool Checker::input(const SyntaxNode& node, Operand wanted, Expr& element) {
    switch (wanted) {
        case Operand::truth:
            element.args.push_back(boolean(node));
            return element.args.back() != nullptr;
        case Operand::number:
        case Operand::anything:
            element.args.push_back(remembered(node, wanted, element.op));
            return element.args.back() != nullptr;
        case Operand::time:
        case Operand::span:
        case Operand::pulse:
            return preset_time(node, wanted, element);
        case Operand::count:
            return preset_count(node, element);
        case Operand::none:
            break;
    }
    return false;
}

ExprPtr Checker::remembered(const SyntaxNode& node, Operand wanted, Op op) {
    const Checked value = check(node);
    if (wanted == Operand::number && !is_number(node, value)) return nullptr;
    if (!value) return nullptr;
    if (value.expr->type.kind == TypeKind::mode) {
        report_.error("wrong-type", node.span,
                      std::string("`") + op_word(op) + "` remembers on or off, or a number, but not a mode", "",
                      std::string("write `") + op_word(op) + "(engine = running)`");
        return nullptr;
    }
    return settle_alone(value);
}

bool Checker::preset_time(const SyntaxNode& node, Operand wanted, Expr& element) {
    const std::string block = op_word(element.op);
    const Checked value = check(node);
    if (!is_number(node, value)) return false;
    const Expr& e = *value.expr;
    const std::string shown = report_.quote(node.span);
    if (!e.type.dimension.is_time()) {
        const Dimension time = find_unit("s")->dimension;
        if (node.shape == SyntaxShape::literal && e.type.dimension.is_plain())
            unit_missing(node, Type::number(time, true), "it is the time of `" + block + "`, and 3 s is not 3 min");
        else
            report_.error("wrong-unit", node.span,
                          shown + " is " + describe(e.type) + ", but the last input of `" + block + "` is a time", "",
                          "write a time: " + unit_example(Type::number(time, true), "1"));
        return false;
    }
    if (e.op != Op::number) {
        report_.error("constant-needed", node.span, "the time of `" + block + "` must be a fixed number",
                      "a time that changes while it is running has no clear meaning");
        return false;
    }
    if (e.value < 0 || e.value > longest_time || (e.value == 0 && wanted == Operand::span)) {
        report_.error("bad-time", node.span,
                      e.value > longest_time ? "the time " + shown + " is longer than 1000000 s"
                                             : std::string("the time of `") + block + "` must be " +
                                                   (wanted == Operand::span ? "above 0" : "0 or more"));
        return false;
    }
    if (e.value == 0 && wanted == Operand::pulse) {
        report_.error("pulse-zero", node.span, "a pulse of length 0 never comes",
                      block + " switches on for the time given there", "give it a time, or use R_TRIG for one scan");
        return false;
    }
    element.value = e.value;
    if (node.shape == SyntaxShape::literal) element.written = node.text;
    return true;
}

bool Checker::preset_count(const SyntaxNode& node, Expr& element) {
    const std::string what = std::string("the number up to which `") + op_word(element.op) + "` counts";
    const Checked preset = check(node);
    if (!is_number(node, preset)) return false;
    if (preset.expr->op != Op::number) {
        report_.error("constant-needed", node.span, what + " must be fixed");
        return false;
    }
    const auto count =
        whole_count(node, preset.expr->value, preset.expr->type.dimension.is_plain(), 1, most_counts, what);
    element.count = count.value_or(0);
    return count.has_value();
}

std::optional<long> Checker::whole_count(const SyntaxNode& node, const Rational& value, bool plain, long least,
                                         long most, const std::string& what) {
    if (plain && value.get_den() == 1 && value >= least && value <= most) return value.get_num().get_si();
    report_.error("bad-count", node.shape == SyntaxShape::apply ? node.head : node.span,
                  what + " must be a whole number from " + std::to_string(least) + " to " + std::to_string(most) +
                      ", without a unit");
    return std::nullopt;
}

Checked Checker::vote(const SyntaxNode& node) {
    std::vector<ExprPtr> args;
    bool fine = true;
    for (const NodePtr& a : node.args) {
        args.push_back(boolean(*a));
        fine = fine && args.back() != nullptr;
    }
    if (args.empty()) {
        report_.error("too-few-inputs", node.span, "the parentheses contain nothing to vote on", "",
                      "write `2 of (a, b, c)`, for example");
        return {};
    }
    const auto count =
        whole_count(node, node.number, true, 1, std::ssize(args),
                    "the number in front of `of`, here with " + std::to_string(args.size()) + " inputs,");
    if (!fine || !count) return {};
    auto e = make(Op::vote, node, Type::boolean(), std::move(args));
    e->count = *count;
    return {e, std::nullopt};
}

Checked Checker::band(const SyntaxNode& node) {
    const SyntaxNode& value_node = *node.args[0];
    const SyntaxNode& on_node = *node.args[1];
    const SyntaxNode& off_node = *node.args[2];
    const Checked value = check(value_node), on = check(on_node), off = check(off_node);
    bool fine = is_number(value_node, value);
    for (const auto& [point, point_node] : {std::pair{&on, &on_node}, std::pair{&off, &off_node}}) {
        if (!is_number(*point_node, *point)) {
            fine = false;
        } else if (point->expr->op != Op::number) {
            report_.error("constant-needed", point_node->span, "the points of `band` must be fixed numbers",
                          "if the points moved, it could have to go on and off at the same time",
                          "take the difference first: `band(oil - needed, on < 0 psi, off > 3 psi)`");
            fine = false;
        }
    }
    if (!fine) return {};
    const Op on_op = node.flag ? Op::gt : Op::lt, off_op = node.flag ? Op::lt : Op::gt;
    // Both comparisons are of the same value: a constant one is settled once, by the first point.
    const ExprPtr goes_on = compare_numbers(on_op, node, value_node, value, on_node, on);
    const ExprPtr goes_off = compare_numbers(off_op, node, value_node, value, off_node, off);
    if (!goes_on || !goes_off) return {};
    const Rational& on_at = goes_on->args[1]->value;
    const Rational& off_at = goes_off->args[1]->value;
    if (node.flag ? off_at > on_at : off_at < on_at) {
        report_.error(
            "band-order",
            join(on_node.span.begin < off_node.span.begin ? on_node.span : off_node.span,
                 on_node.span.begin < off_node.span.begin ? off_node.span : on_node.span),
            "the off point lies past the on point", "between the two it would have to go on and off at the same time",
            node.flag ? "with `on >`, the off point is the lower one" : "with `on <`, the off point is the higher one");
        return {};
    }
    return {element(Op::band, node, Type::boolean(), {goes_on, goes_off}), std::nullopt};
}

std::optional<TableShape> Checker::table_shape(const SyntaxNode& node) {
    const auto shape = scope_.find_table(node.text);
    if (shape) return shape;
    const std::vector<std::string> names = scope_.table_names();
    const auto meant = nearest(node.text, names);
    std::string hint;
    if (meant) hint = "did you mean `" + *meant + "`?";
    if (!meant && names.empty()) hint = "this model has no tables; declare them in its section \"tables\"";
    if (!meant && !names.empty()) {
        hint = "tables of this model: ";
        for (const std::string& n : names) hint += (&n == &names.front() ? "" : ", ") + n;
    }
    report_.error("unknown-table", node.head, "there is no table called " + report_.quote(node.head), "", hint);
    return std::nullopt;
}

Checked Checker::table(const SyntaxNode& node) {
    const auto shape = table_shape(node);
    const std::vector<Checked> values = check_all(node);
    if (!shape) return {};
    if (values.size() != shape->axes.size()) {
        const bool few = values.size() < shape->axes.size();
        const bool one = shape->axes.size() == 1;
        report_.error(few ? "too-few-inputs" : "too-many-inputs", node.span,
                      "the table " + report_.quote(node.head) + " is read by " +
                          (one ? "one value" : "two values, one for its rows and one for its columns"),
                      "", "write `table(" + node.text + (one ? ", x)`" : ", x, y)`"));
        return {};
    }
    std::vector<ExprPtr> args;
    bool fine = true;
    for (std::size_t i = 0; i < values.size(); ++i) {
        const std::string place = i == 0 ? "for the rows of the table" : "for the columns of the table";
        args.push_back(values[i] ? assign(*node.args[i], values[i], shape->axes[i], place) : nullptr);
        fine = fine && args.back() != nullptr;
    }
    if (!fine) return {};
    auto e = make(Op::table, node, shape->value, std::move(args));
    e->table = shape->id;
    return {e, std::nullopt};
}

}  // namespace lanyard::lang
