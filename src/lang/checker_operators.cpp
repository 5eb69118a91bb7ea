// The part of the checker that handles operators: logic, comparisons, arithmetic and the rules for temperatures.

#include "lang/checker.hpp"
#include "lang/words.hpp"

namespace lanyard::lang {

namespace {

const char* const two_kinds = "90 degC is a temperature, 5 K is the difference between two temperatures";

bool is_constant(const Checked& v) { return v.expr->op == Op::number; }

ExprPtr without_words(const Expr& e) {
    auto copy = std::make_shared<Expr>(e);
    if (e.type.dimension.is_temperature()) copy->written.clear();
    return copy;
}

}  // namespace

Checked Checker::apply(const SyntaxNode& node) {
    switch (class_of(node.op)) {
        case OpClass::logic:
            return node.op == Op::vote ? vote(node) : logic(node);
        case OpClass::comparison:
            return comparison(node);
        case OpClass::arithmetic:
            return arithmetic(node);
        case OpClass::table:
            return table(node);
        case OpClass::clock:
        case OpClass::latch:
        case OpClass::edge:
        case OpClass::counter:
        case OpClass::rate:
        case OpClass::previous:
            return memory(node);
        case OpClass::leaf:  // shapes of their own
        case OpClass::band:
            break;
    }
    return {};
}

Checked Checker::arithmetic(const SyntaxNode& node) {
    static_assert(size_of(OpClass::arithmetic) == 5);
    if (node.op == Op::neg) return negation(node);
    return node.op == Op::add || node.op == Op::sub ? sum(node) : product(node);
}

Checked Checker::logic(const SyntaxNode& node) {
    if (node.op == Op::implies && !scope_.allows_implication())
        report_.error("claims-only", node.head, "`->` can only be used in claims and conditions",
                      "it says what must be true, not how a signal is made", "write `NOT a OR b` instead of `a -> b`");
    std::vector<ExprPtr> args;
    bool fine = true;
    for (const NodePtr& a : node.args) {
        const Checked value = check(*a);
        // NOT binds tighter than a comparison, which surprises whoever reads aloud.
        if (node.op == Op::not_ && value && value.expr->type.kind != TypeKind::boolean && !a->in_parentheses) {
            report_.error("wrong-type", a->span,
                          report_.quote(a->span) + " is " + describe(value.expr->type) +
                              ", and NOT needs something that is on or off",
                          "NOT acts on the next word only",
                          value.expr->type.kind == TypeKind::mode
                              ? "write `NOT (engine = running)`, for example"
                              : "put the comparison in parentheses: `NOT (oil < 15 psi)`");
            fine = false;
            continue;
        }
        args.push_back(value ? as_boolean(*a, value) : nullptr);
        fine = fine && args.back() != nullptr;
    }
    if (!fine) return {};
    return {make(node.op, node, Type::boolean(), std::move(args)), std::nullopt};
}

Checked Checker::comparison(const SyntaxNode& node) {
    const SyntaxNode& l = *node.args[0];
    const SyntaxNode& r = *node.args[1];
    Checked left = check(l), right = check(r);
    if (!left || !right) return {};
    if (node.op == Op::eq || node.op == Op::ne) return equality(node, left, right);
    const bool chained = l.shape == SyntaxShape::apply && precedence(l.op) == precedence(node.op) && !l.in_parentheses;
    if (chained && left.expr->type.kind == TypeKind::boolean) {
        const std::string middle = report_.plain(l.args[1]->span);
        report_.error("wrong-type", node.span, "two comparisons cannot be written in one", "",
                      "join two with AND: `" + report_.plain(l.span) + " AND " + middle + " " + op_word(node.op) + " " +
                          report_.plain(r.span) + "`");
        return {};
    }
    const bool numbers = is_number(l, left);
    if (!is_number(r, right) || !numbers) return {};
    return {compare_numbers(node.op, node, l, left, r, right), std::nullopt};
}

Checked Checker::equality(const SyntaxNode& node, Checked left, Checked right) {
    const Type& a = left.expr->type;
    const Type& b = right.expr->type;
    if (a.kind == TypeKind::number && b.kind == TypeKind::number)
        return {compare_numbers(node.op, node, *node.args[0], left, *node.args[1], right), std::nullopt};
    if (a.kind == b.kind) return {make(node.op, node, Type::boolean(), {left.expr, right.expr}), std::nullopt};
    const std::string first = report_.quote(node.args[0]->span), second = report_.quote(node.args[1]->span);
    report_.error("wrong-type", node.span,
                  first + " is " + describe(a) + ", but " + second + " is " + describe(b) + "; they cannot be equal");
    return {};
}

ExprPtr Checker::compare_numbers(Op op, const SyntaxNode& node, const SyntaxNode& left_node, Checked left,
                                 const SyntaxNode& right_node, Checked right) {
    const Type a = left.expr->type, b = right.expr->type;
    if (a.dimension != b.dimension) {
        mismatch(left_node, a, right_node, b, node.span, "only values of the same kind can be compared");
        return nullptr;
    }
    ExprPtr l = left.expr, r = right.expr;
    if (left.flexible && right.flexible) {
        const bool difference = left.flexible->kelvin && right.flexible->kelvin;
        l = settle(left, difference);
        r = settle(right, difference);
    } else {
        l = settle(left, b.difference);
        r = settle(right, a.difference);
        // A constant beside a constant: printed as it was written it could be read as the other kind.
        if (l->op == Op::number && r->op == Op::number && l->type.difference) {
            l = without_words(*l);
            r = without_words(*r);
        }
    }
    if (l->type.difference != r->type.difference) {
        report_.error("temperature-kind", node.span,
                      report_.quote(left_node.span) + " is " + describe(a) + ", but " + report_.quote(right_node.span) +
                          " is " + describe(b),
                      two_kinds, "compare temperatures with temperatures and differences with differences");
        return nullptr;
    }
    return make(op, node, Type::boolean(), {l, r});
}

void Checker::ambiguous(const Span& span, const std::string& what) {
    report_.error("ambiguous-temperature", span,
                  "it is not clear whether " + what + " is a temperature or a difference of temperatures here",
                  two_kinds, "write a difference in K");
}

Checked Checker::negation(const SyntaxNode& node) {
    Checked value = check(*node.args[0]);
    if (!is_number(*node.args[0], value) || !scalable(*node.args[0], value)) return {};
    const Type type = value.expr->type;
    if (is_constant(value)) return constant(node, type.dimension, Rational{-value.expr->value});
    return {make(Op::neg, node, type, {value.expr}), std::nullopt};
}

Checked Checker::sum(const SyntaxNode& node) {
    const SyntaxNode& l = *node.args[0];
    const SyntaxNode& r = *node.args[1];
    Checked left = check(l), right = check(r);
    const bool numbers = is_number(l, left);
    if (!is_number(r, right) || !numbers) return {};
    const Type a = left.expr->type, b = right.expr->type;
    if (a.dimension != b.dimension) {
        mismatch(l, a, r, b, node.span, "only values of the same kind can be added or subtracted");
        return {};
    }
    if (a.dimension.is_temperature()) return temperature_sum(node, left, right);
    if (is_constant(left) && is_constant(right)) {
        const Rational& x = left.expr->value;
        const Rational& y = right.expr->value;
        return constant(node, a.dimension, node.op == Op::add ? Rational{x + y} : Rational{x - y});
    }
    return {make(node.op, node, a, {left.expr, right.expr}), std::nullopt};
}

// Sums of which at least one part is already one kind or the other. A constant of the other part is read so that the
// sum makes sense: kelvins are a difference, other scales a difference where an absolute is there already; only
// "minus 90 degC" could mean two things.
Checked Checker::temperature_sum(const SyntaxNode& node, const Checked& left, const Checked& right) {
    if (left.flexible && right.flexible) return flexible_sum(node, left, right);
    const bool adds = node.op == Op::add;
    if (right.flexible && !adds && !right.flexible->kelvin) {
        ambiguous(node.span, report_.quote(node.args[1]->span));
        return {};
    }
    ExprPtr l = left.expr, r = right.expr;
    if (left.flexible) {
        const bool beside_absolute = !r->type.difference;
        l = settle(left, beside_absolute ? adds : left.flexible->kelvin);
    }
    if (right.flexible) r = settle(right, !l->type.difference || right.flexible->kelvin);
    const bool left_absolute = !l->type.difference, right_absolute = !r->type.difference;
    if ((adds && left_absolute && right_absolute) || (!adds && !left_absolute && right_absolute)) {
        report_.error(
            "absolute-temperature", node.span,
            adds ? "two temperatures cannot be added" : "a temperature cannot be subtracted from a difference",
            two_kinds, adds ? "write the one that is a difference in K" : "swap the two");
        return {};
    }
    const bool difference = left_absolute == right_absolute;
    if (l->op == Op::number && r->op == Op::number) {
        auto e = make(Op::number, node, Type::number(l->type.dimension, difference));
        e->value = adds ? Rational{l->value + r->value} : Rational{l->value - r->value};
        return {e, std::nullopt};
    }
    return {make(node.op, node, Type::number(l->type.dimension, difference), {l, r}), std::nullopt};
}

// Both parts are constants that may be either kind. Read as an absolute, exactly one part is absolute: the one that is
// not in kelvins.
Checked Checker::flexible_sum(const SyntaxNode& node, const Checked& left, const Checked& right) {
    const Flexible& a = *left.flexible;
    const Flexible& b = *right.flexible;
    const bool adds = node.op == Op::add;
    const bool two_points = !a.kelvin && !b.kelvin;
    if (two_points || (!adds && !b.kelvin)) {
        ambiguous(node.span, report_.quote(node.args[1]->span));
        return {};
    }
    const Rational second = adds ? b.difference : Rational{-b.difference};
    Flexible result{Rational{a.absolute + second}, Rational{a.difference + second}, a.kelvin && b.kelvin};
    if (!b.kelvin) result.absolute = a.difference + b.absolute;
    return constant(node, result);
}

// May the value be multiplied, divided or negated? Kelvins are taken as a difference.
bool Checker::scalable(const SyntaxNode& node, Checked& value) {
    if (value.flexible && value.flexible->kelvin) {
        value = {settle(value, true), std::nullopt};
        return true;
    }
    const Type& type = value.expr->type;
    if (!type.dimension.is_temperature() || type.difference) return true;
    report_.error(
        "absolute-temperature", node.span,
        report_.quote(node.span) + " is a temperature, which cannot be multiplied, divided or negated",
        "twice 10 degC is not 20 degC when it is read in degF",
        value.flexible ? "for a difference write K" : "subtract another temperature first: that gives a difference");
    return false;
}

Checked Checker::product(const SyntaxNode& node) {
    const SyntaxNode& l = *node.args[0];
    const SyntaxNode& r = *node.args[1];
    Checked left = check(l), right = check(r);
    const bool numbers = is_number(l, left);
    if (!is_number(r, right) || !numbers) return {};
    const bool left_fine = scalable(l, left);
    if (!scalable(r, right) || !left_fine) return {};
    if (node.op == Op::div) return quotient(node, left, right);
    const Dimension d = left.expr->type.dimension * right.expr->type.dimension;
    if (is_constant(left) && is_constant(right))
        return constant(node, d, Rational{left.expr->value * right.expr->value});
    return {make(Op::mul, node, Type::number(d, true), {left.expr, right.expr}), std::nullopt};
}

Checked Checker::quotient(const SyntaxNode& node, Checked left, Checked right) {
    const SyntaxNode& divisor = *node.args[1];
    if (!is_constant(right)) {
        report_.error("constant-needed", divisor.span,
                      "only a fixed number can follow `/`, and " + report_.quote(divisor.span) + " changes",
                      "a signal can be 0, and nothing can be divided by 0",
                      "compare without dividing: `a > 2 * b` instead of `a / b > 2`");
        return {};
    }
    if (right.expr->value == 0) {
        report_.error("division-by-zero", divisor.span, "nothing can be divided by 0");
        return {};
    }
    const Dimension d = left.expr->type.dimension / right.expr->type.dimension;
    if (is_constant(left)) return constant(node, d, Rational{left.expr->value / right.expr->value});
    return {make(Op::div, node, Type::number(d, true), {left.expr, right.expr}), std::nullopt};
}

}  // namespace lanyard::lang
