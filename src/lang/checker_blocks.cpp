// The part of the checker that handles blocks: timers, latches, counters, votes, comparators, rates, tables.

#include "base/suggest.hpp"
#include "lang/checker.hpp"
#include "lang/words.hpp"

namespace lanyard {

namespace {

// Eleven days; beyond it somebody has mistaken the unit.
const Rational longest_time{1000000};
constexpr long most_counts = 1000000;

}  // namespace

std::optional<Rational> Checker::preset_time(const SyntaxNode& node, const std::string& block, bool zero_is_fine) {
    const Checked value = check(node);
    if (!is_number(node, value)) return std::nullopt;
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
        return std::nullopt;
    }
    if (e.op != Op::number) {
        report_.error("constant-needed", node.span, "the time of `" + block + "` must be a fixed number",
                      "a time that changes while it runs out has no clear meaning");
        return std::nullopt;
    }
    if (e.value < 0 || e.value > longest_time || (e.value == 0 && !zero_is_fine)) {
        report_.error("bad-time", node.span,
                      e.value > longest_time ? "the time " + shown + " is longer than 1000000 s"
                                             : std::string("the time of `") + block + "` must be " +
                                                   (zero_is_fine ? "0 or more" : "above 0"));
        return std::nullopt;
    }
    return e.value;
}

Checked Checker::timer(const SyntaxNode& node) {
    const std::string word = op_word(node.op);
    ExprPtr in = boolean(*node.args[0]);
    const SyntaxNode& time_node = *node.args[1];
    const auto time = preset_time(time_node, word, true);
    if (time && *time == 0 && node.op == Op::tp) {
        report_.error("pulse-zero", time_node.span, "a pulse of length 0 never comes",
                      "TP switches on for the time that stands there", "give it a time, or use R_TRIG for one scan");
        return {};
    }
    if (!in || !time) return {};
    auto e = element(node.op, node, Type::boolean(), {in});
    e->value = *time;
    if (time_node.shape == SyntaxShape::literal) e->written = time_node.text;
    return {e, std::nullopt};
}

Checked Checker::latch(const SyntaxNode& node) {
    std::vector<ExprPtr> args;
    bool fine = true;
    for (const NodePtr& a : node.args) {
        args.push_back(boolean(*a));
        fine = fine && args.back() != nullptr;
    }
    if (!fine) return {};
    return {element(node.op, node, Type::boolean(), std::move(args)), std::nullopt};
}

std::optional<long> Checker::whole_count(const SyntaxNode& node, const Rational& value, bool plain, long least,
                                         long most, const std::string& what) {
    if (plain && value.get_den() == 1 && value >= least && value <= most) return value.get_num().get_si();
    report_.error("bad-count", node.shape == SyntaxShape::apply ? node.head : node.span,
                  what + " must be a whole number from " + std::to_string(least) + " to " + std::to_string(most) +
                      ", without a unit");
    return std::nullopt;
}

Checked Checker::counter(const SyntaxNode& node) {
    ExprPtr up = boolean(*node.args[0]);
    ExprPtr reset = boolean(*node.args[1]);
    const SyntaxNode& count_node = *node.args[2];
    const Checked preset = check(count_node);
    if (!is_number(count_node, preset)) return {};
    if (preset.expr->op != Op::number) {
        report_.error("constant-needed", count_node.span, "the number up to which `CTU` counts must be fixed");
        return {};
    }
    const bool plain = preset.expr->type.dimension.is_plain();
    const auto count =
        whole_count(count_node, preset.expr->value, plain, 1, most_counts, "the number up to which `CTU` counts");
    if (!up || !reset || !count) return {};
    auto e = element(Op::ctu, node, Type::boolean(), {up, reset});
    e->count = *count;
    return {e, std::nullopt};
}

Checked Checker::vote(const SyntaxNode& node) {
    std::vector<ExprPtr> args;
    bool fine = true;
    for (const NodePtr& a : node.args) {
        args.push_back(boolean(*a));
        fine = fine && args.back() != nullptr;
    }
    if (args.empty()) {
        report_.error("too-few-inputs", node.span, "there is nothing to choose from in the parentheses", "",
                      "write `2 of (a, b, c)`, for example");
        return {};
    }
    const auto count =
        whole_count(node, node.number, true, 1, static_cast<long>(args.size()),
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
                          "with points that move, going on and going off could fall together",
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
            "the off point lies beyond the on point", "between the two it would have to go on and off at the same time",
            node.flag ? "with `on >`, the off point is the lower one" : "with `on <`, the off point is the higher one");
        return {};
    }
    return {element(Op::band, node, Type::boolean(), {goes_on, goes_off}), std::nullopt};
}

Checked Checker::rate(const SyntaxNode& node) {
    const SyntaxNode& value_node = *node.args[0];
    const Checked value = check(value_node);
    const bool fine = is_number(value_node, value);
    const auto time = preset_time(*node.args[1], op_word(Op::rate), false);
    if (!fine || !time) return {};
    const Dimension per_second = value.expr->type.dimension / find_unit("s")->dimension;
    auto e = element(Op::rate, node, Type::number(per_second, true), {settle_alone(value)});
    e->value = *time;
    if (node.args[1]->shape == SyntaxShape::literal) e->written = node.args[1]->text;
    return {e, std::nullopt};
}

Checked Checker::previous(const SyntaxNode& node) {
    const SyntaxNode& value_node = *node.args[0];
    const Checked value = check(value_node);
    if (!value) return {};
    if (value.expr->type.kind == TypeKind::mode) {
        report_.error("wrong-type", value_node.span, "`previous` remembers what is on or off, or a number, but no mode",
                      "", "write `previous(engine = running)`");
        return {};
    }
    const ExprPtr settled = settle_alone(value);
    return {element(Op::previous, node, settled->type, {settled}), std::nullopt};
}

std::optional<TableShape> Checker::table_shape(const SyntaxNode& node) {
    const auto shape = scope_.find_table(node.text);
    if (shape) return shape;
    const std::vector<std::string> names = scope_.table_names();
    const auto meant = nearest(node.text, names);
    std::string hint;
    if (meant) hint = "did you mean `" + *meant + "`?";
    if (!meant && names.empty()) hint = "this model has no tables; they stand in its section \"tables\"";
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

}  // namespace lanyard
