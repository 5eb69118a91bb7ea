#include "lang/checker.hpp"

#include <algorithm>

#include "base/characters.hpp"
#include "base/suggest.hpp"
#include "lang/words.hpp"

namespace lanyard::lang {

namespace {

bool is_temperature(const Type& t) { return t.kind == TypeKind::number && t.dimension.is_temperature(); }

// One value of `difference` for everything that has only one kind, so that types can be compared.
Type normal(Type t) {
    if (!is_temperature(t)) t.difference = true;
    return t;
}

// Another spelling of the same letters is a better guess than any other word.
std::optional<std::string> meant_by(const std::string& word, const std::vector<std::string>& names) {
    for (const std::string& n : names)
        if (lower(n) == lower(word)) return n;
    return nearest(word, names);
}

}  // namespace

std::string describe(const Type& type) {
    switch (type.kind) {
        case TypeKind::boolean:
            return "an on/off signal";
        case TypeKind::mode:
            return "an engine mode";
        case TypeKind::number:
            break;
    }
    if (is_temperature(type) && type.difference) return "a difference of temperatures";
    const std::string name = dimension_name(type.dimension);
    const bool vowel = std::string("aeiou").find(name[0]) != std::string::npos;
    return (vowel ? "an " : "a ") + name;
}

std::string unit_example(const Type& type, const std::string& number) {
    constexpr int most_others = 3;
    const bool kelvins = is_temperature(type) && type.difference;
    const std::string first = kelvins ? "K" : default_unit(type.dimension).symbol;
    std::string others;
    int more = 0;
    for (const Unit& u : unit_table()) {
        if (u.dimension != type.dimension || u.symbol == first || more == most_others) continue;
        others += (others.empty() ? "" : ", ") + u.symbol;
        ++more;
    }
    return number + (first.empty() ? "" : " " + first) + (others.empty() ? "" : " (other units: " + others + ")");
}

namespace {

// Nothing where the kind has no unit that can be written.
std::string written_like(const Type& type) {
    const std::string unit = default_unit(type.dimension).symbol;
    if (!unit.empty() && !find_unit(unit)) return "";
    return describe(type) + " is written like this: " + unit_example(type, "1");
}

}  // namespace

std::shared_ptr<Expr> Checker::make(Op op, const SyntaxNode& node, Type type, std::vector<ExprPtr> args) const {
    auto e = std::make_shared<Expr>();
    e->op = op;
    e->type = normal(type);
    e->args = std::move(args);
    e->place = report_.place(node.span);
    return e;
}

std::shared_ptr<Expr> Checker::element(Op op, const SyntaxNode& node, Type type, std::vector<ExprPtr> args) {
    auto e = make(op, node, type, std::move(args));
    e->element = scope_.new_element(op);
    return e;
}

Checked Checker::constant(const SyntaxNode& node, const Dimension& dimension, Rational value,
                          std::string written) const {
    auto e = make(Op::number, node, Type::number(dimension, true));
    e->value = std::move(value);
    e->written = std::move(written);
    return {e, std::nullopt};
}

Checked Checker::constant(const SyntaxNode& node, const Flexible& value, std::string written) const {
    auto e = make(Op::number, node, Type::number({{0, 0, 0, 0, 1, 0, 0}}, value.kelvin));
    e->value = value.kelvin ? value.difference : value.absolute;
    e->written = std::move(written);
    return {e, value};
}

ExprPtr Checker::settle(const Checked& value, bool difference) const {
    if (!value.flexible) return value.expr;
    auto e = std::make_shared<Expr>(*value.expr);
    e->type.difference = difference;
    e->value = difference ? value.flexible->difference : value.flexible->absolute;
    return e;
}

ExprPtr Checker::settle_alone(const Checked& value) const { return value.expr; }

ExprPtr Checker::whole(const SyntaxNode& node, const std::optional<Type>& wanted) {
    const Checked value = check(node);
    if (!value || report_.failed()) return nullptr;
    ExprPtr result;
    if (!wanted)
        result = settle_alone(value);
    else if (wanted->kind == TypeKind::boolean)
        result = as_boolean(node, value);
    else
        result = assign(node, value, *wanted, "");
    return report_.failed() ? nullptr : result;
}

Checked Checker::check(const SyntaxNode& node) {
    switch (node.shape) {
        case SyntaxShape::error:
            check_all(node);
            return {};
        case SyntaxShape::literal:
            return literal(node);
        case SyntaxShape::name:
            return name(node);
        case SyntaxShape::truth: {
            auto e = make(Op::truth, node, Type::boolean());
            e->flag = node.flag;
            return {e, std::nullopt};
        }
        case SyntaxShape::mode:
            return mode(node);
        case SyntaxShape::apply:
            return apply(node);
        case SyntaxShape::band:
            return band(node);
    }
    return {};
}

std::vector<Checked> Checker::check_all(const SyntaxNode& node) {
    std::vector<Checked> values;
    for (const NodePtr& a : node.args) values.push_back(check(*a));
    return values;
}

Checked Checker::literal(const SyntaxNode& node) {
    if (!node.unknown_unit.empty()) {
        unknown_unit(node);
        return {};
    }
    if (!node.unit) return constant(node, {}, node.number, node.text);
    const Unit& u = *node.unit;
    if (!u.dimension.is_temperature()) return constant(node, u.dimension, to_si(node.number, u, true), node.text);
    return constant(node, {to_si(node.number, u, false), to_si(node.number, u, true), u.offset == 0}, node.text);
}

void Checker::unknown_unit(const SyntaxNode& node) {
    const std::string& word = node.unknown_unit;
    if (scope_.find(word)) {
        report_.error("syntax-expression", node.head, "something is missing before " + report_.quote(node.head), "",
                      "put an arithmetic sign, a comparison, AND or OR between the two");
        return;
    }
    report_unknown_unit(report_, node);
}

Checked Checker::name(const SyntaxNode& node) {
    const auto symbol = scope_.find(node.text);
    if (!symbol) {
        unknown_name(node);
        return {};
    }
    const auto of = [&](SignalId id) {
        auto e = make(symbol->op, node, symbol->type);
        e->signal = id;
        return e;
    };
    if (symbol->more.empty()) return {of(symbol->signal), std::nullopt};
    auto any = make(Op::or_, node, symbol->type);
    any->args.push_back(of(symbol->signal));
    for (const SignalId id : symbol->more) any->args.push_back(of(id));
    return {any, std::nullopt};
}

void Checker::unknown_name(const SyntaxNode& node) {
    const std::string shown = report_.quote(node.span);
    if (const auto refusal = scope_.refusal(node.text)) {
        report_.error("not-visible", node.span, shown + " cannot be used here", refusal->why, refusal->hint);
        return;
    }
    const WordHelp* word = find_word(node.text);
    if (word && word->kind == WordKind::signal && !scope_.has_engine() && node.text == "engine")
        return no_engine(node.span);
    if (scope_.find_table(node.text)) {
        report_.error("wrong-type", node.span, shown + " is a table, not a value", "",
                      "read a value from it: `table(" + node.text + ", x)`");
        return;
    }
    std::vector<std::string> names = scope_.names();
    // Ends and faults of parts are many, and nobody means one of them who writes no point.
    if (node.text.find('.') == std::string::npos)
        std::erase_if(names, [](const std::string& n) { return n.find('.') != std::string::npos; });
    std::string hint;
    const auto meant = meant_by(node.text, names);
    const std::string unit = unit_meant_by(node.text);
    constexpr std::size_t few = 16;
    if (meant) {
        hint = "did you mean `" + *meant + "`?";
    } else if (lower(unit) == lower(node.text)) {
        hint = "if you mean the unit, it is written `" + unit + "`, with a number in front";
    } else if (!names.empty() && names.size() <= few) {
        for (const std::string& n : names) hint += (hint.empty() ? "names that can be used here: " : ", ") + n;
    }
    const bool of_part = node.text.find('.') != std::string::npos;
    report_.error("unknown-name", node.span, "there is nothing called " + shown + " here",
                  of_part ? "after a point comes an end of a part, or one of its faults" : "", hint);
}

void Checker::no_engine(const Span& span) {
    if (told_no_engine_) return;
    told_no_engine_ = true;
    report_.error("no-engine", span, "this model has no engine that could be stopped, cranking, running or coasting",
                  "", "add an \"engine\" section to the model; `\"engine\": {}` is enough");
}

Checked Checker::mode(const SyntaxNode& node) {
    if (!scope_.has_engine()) {
        no_engine(node.span);
        return {};
    }
    auto e = make(Op::mode, node, Type::of_mode());
    e->mode = node.mode;
    return {e, std::nullopt};
}

ExprPtr Checker::boolean(const SyntaxNode& node) {
    const Checked value = check(node);
    return value ? as_boolean(node, value) : nullptr;
}

ExprPtr Checker::as_boolean(const SyntaxNode& node, Checked value) {
    const Type& type = value.expr->type;
    if (type.kind == TypeKind::boolean) return value.expr;
    const std::string shown = report_.quote(node.span);
    std::string hint;
    if (type.kind == TypeKind::mode) {
        hint = node.shape == SyntaxShape::mode ? "write `engine = " + report_.plain(node.span) + "`"
                                               : "write `engine = running`, for example";
    } else if (value.expr->op == Op::number) {
        hint = "compare a signal with it: `oil > 15 psi`";
    } else {
        const Unit unit = default_unit(type.dimension);
        const std::string number = is_temperature(type) && !type.difference ? "90" : "0";
        const std::string symbol = is_temperature(type) && type.difference ? "K" : unit.symbol;
        hint = "compare it with a value: `" + report_.plain(node.span) + " > " + number +
               (symbol.empty() ? "" : " " + symbol) + "`";
    }
    report_.error("wrong-type", node.span,
                  shown + " is " + describe(type) + ", but something that is on or off is expected here", "", hint);
    return nullptr;
}

bool Checker::is_number(const SyntaxNode& node, const Checked& value) {
    if (!value) return false;
    const Type& type = value.expr->type;
    if (type.kind == TypeKind::number) return true;
    report_.error("wrong-type", node.span,
                  report_.quote(node.span) + " is " + describe(type) + ", but a number with its unit is expected here",
                  "",
                  type.kind == TypeKind::boolean ? "use AND, OR and NOT to combine what is on or off"
                                                 : "modes can only be compared by = and <>");
    return false;
}

void Checker::unit_missing(const SyntaxNode& node, const Type& wanted, const std::string& why) {
    report_.error("unit-missing", node.span, report_.quote(node.span) + " has no unit", why,
                  "write it with one: " + unit_example(wanted, node.text));
}

void Checker::mismatch(const SyntaxNode& left_node, const Type& left, const SyntaxNode& right_node, const Type& right,
                       const Span& span, const std::string& why) {
    const auto is = [&](const SyntaxNode& n, const Type& t) { return report_.quote(n.span) + " is " + describe(t); };
    const auto is_bare = [](const SyntaxNode& n, const Type& t) {
        return n.shape == SyntaxShape::literal && t.dimension.is_plain();
    };
    if (is_bare(right_node, right)) return unit_missing(right_node, left, is(left_node, left));
    if (is_bare(left_node, left)) return unit_missing(left_node, right, is(right_node, right));
    // The number is more likely to be wrong than the signal.
    std::string hint;
    Dimension apart = left.dimension / right.dimension;
    apart.exponent.back() = 0;
    if (apart.is_plain())
        hint = "a percentage is not a plain number: write 0.5 where 50 % of something is meant";
    else if (right_node.shape == SyntaxShape::literal)
        hint = written_like(left);
    else if (left_node.shape == SyntaxShape::literal)
        hint = written_like(right);
    report_.error("wrong-unit", span, is(left_node, left) + ", but " + is(right_node, right), why, hint);
}

ExprPtr Checker::assign(const SyntaxNode& node, const Checked& value, const Type& wanted_type,
                        const std::string& place) {
    const Type wanted = normal(wanted_type);
    const std::string here = place.empty() ? "here" : place;
    if (wanted.kind == TypeKind::boolean) return as_boolean(node, value);
    if (wanted.kind == TypeKind::mode) {
        if (value.expr->type.kind == TypeKind::mode) return value.expr;
        report_.error("wrong-type", node.span,
                      report_.quote(node.span) + " is " + describe(value.expr->type) +
                          ", but an engine mode is expected " + here);
        return nullptr;
    }
    if (!is_number(node, value)) return nullptr;
    const Type& type = value.expr->type;
    if (type.dimension != wanted.dimension) {
        if (node.shape == SyntaxShape::literal && type.dimension.is_plain())
            unit_missing(node, wanted, "the value expected " + here + " is " + describe(wanted));
        else
            report_.error("wrong-unit", node.span,
                          report_.quote(node.span) + " is " + describe(type) + ", but " + describe(wanted) +
                              " is expected " + here);
        return nullptr;
    }
    const ExprPtr settled = settle(value, wanted.difference);
    if (settled->type.difference == wanted.difference) return settled;
    report_.error(
        "temperature-kind", node.span,
        report_.quote(node.span) + " is " + describe(type) + ", but " + describe(wanted) + " is expected " + here,
        "90 degC is a temperature, 5 K is the difference between two temperatures",
        wanted.difference ? "subtract a temperature from it" : "add it to a temperature");
    return nullptr;
}

ExprPtr compile(const LocatedText& text, Scope& scope, std::optional<Type> wanted, Diagnostics& out) {
    TextReport report(text, out);
    const NodePtr node = parse_expression_text(report);
    return Checker(scope, report).whole(*node, wanted);
}

}  // namespace lanyard::lang
