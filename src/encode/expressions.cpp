// Expressions that hold no memory.
#include "encode/expressions.hpp"

namespace lanyard::encode {

z3::expr Expressions::boolean(const Expr& e, const Owner& who) {
    if (e.type.kind != TypeKind::boolean) throw Unsupported{"a number is used where a Boolean is expected"};
    const OpClass kind = class_of(e.op);
    if (kind == OpClass::logic) return logic(e, who);
    if (kind == OpClass::comparison) return comparison(e, who);
    if (has_memory(e.op)) return elements_.element(e, who);
    static_assert(size_of(OpClass::leaf) == 5);  // those that are no truth: a number, a mode
    if (e.op == Op::truth) return truth(e.flag);
    if (e.op == Op::last) return meaning_.last(e.signal);
    // The controller knows what it commands; everybody else sees what comes of it.
    return who.controller ? meaning_.signal(e.signal) : meaning_.driving(e.signal);
}

z3::expr Expressions::logic(const Expr& e, const Owner& who) {
    static_assert(size_of(OpClass::logic) == 6);
    const auto arg = [&](std::size_t i) { return boolean(*e.args[i], who); };
    if (e.op == Op::not_) return !arg(0);
    if (e.op == Op::implies) return z3::implies(arg(0), arg(1));
    std::vector<z3::expr> of;
    for (std::size_t i = 0; i < e.args.size(); ++i) of.push_back(arg(i));
    if (e.op == Op::vote) return vote(of, e.count);
    if (e.op == Op::xor_) {
        z3::expr odd = of[0];
        for (std::size_t i = 1; i < of.size(); ++i) odd = odd != of[i];
        return odd;
    }
    z3::expr_vector all(ctx_);
    for (const auto& x : of) all.push_back(x);
    return e.op == Op::and_ ? all_of(all) : any_of(all);
}

z3::expr Expressions::vote(const std::vector<z3::expr>& of, long m) {
    // at[j]: at least j of those seen so far
    std::vector<z3::expr> at(static_cast<std::size_t>(m) + 1, truth(false));
    at[0] = truth(true);
    for (const auto& x : of)
        for (std::size_t j = at.size() - 1; j >= 1; --j) at[j] = at[j] || (at[j - 1] && x);
    return at.back();
}

EngineModes::Bits Expressions::mode_bits(const Expr& e) {
    if (e.op == Op::mode) {
        const std::size_t m = ordinal(e.mode);
        return {truth((m & 2) != 0), truth((m & 1) != 0)};
    }
    if (e.op != Op::signal) throw Unsupported{"an engine mode is compared with something that is not a mode"};
    return engine_.bits();
}

z3::expr Expressions::comparison(const Expr& e, const Owner& who) {
    const Expr& a = *e.args[0];
    const Expr& b = *e.args[1];
    if (a.type.kind == TypeKind::boolean) {
        const z3::expr equal = boolean(a, who) == boolean(b, who);
        return e.op == Op::eq ? equal : !equal;
    }
    if (a.type.kind == TypeKind::mode) {
        const auto x = mode_bits(a);
        const auto y = mode_bits(b);
        const z3::expr equal = x.first == y.first && x.second == y.second;
        return e.op == Op::eq ? equal : !equal;
    }
    return s_.compare(e.op, number(a, who), number(b, who));
}

Num Expressions::number(const Expr& e, const Owner& who) {
    if (e.type.kind != TypeKind::number) throw Unsupported{"a Boolean is used where a number is expected"};
    if (is_arithmetic(e.op)) return arithmetic(e, who);
    if (e.op == Op::table) return table(e, who);
    if (has_memory(e.op)) return elements_.number_element(e, who);
    static_assert(size_of(OpClass::leaf) == 5);  // those that are no number: a truth, a mode
    if (e.op == Op::signal) return meaning_.signal_number(e.signal);
    if (e.op == Op::number) return constant(e.value);
    const Signal& s = m_.signal(e.signal);
    if (s.kind != SignalKind::quantity) throw Unsupported{"the last value of the number '" + s.name + "' is used"};
    return world_.looked_back_at(e.signal);
}

Num Expressions::arithmetic(const Expr& e, const Owner& who) {
    static_assert(size_of(OpClass::arithmetic) == 5);
    const auto arg = [&](std::size_t i) { return number(*e.args[i], who); };
    const auto of = [&](const z3::expr& x, const z3::expr& y) {
        if (e.op == Op::add) return x + y;
        if (e.op == Op::sub) return x - y;
        return e.op == Op::mul ? x * y : x / y;
    };
    const auto both = [&](const Num& a, const Num& b) {
        return Num{of(a.first, b.first), of(a.last, b.last), a.moving || b.moving};
    };
    if (e.op == Op::neg) {
        const Num a = arg(0);
        return {-a.first, -a.last, a.moving};
    }
    if (e.op != Op::mul) return both(arg(0), arg(1));
    const Num a = arg(0);
    const Num b = arg(1);
    if (e.args[0]->op != Op::number && e.args[1]->op != Op::number) {
        s_.standing(a);
        s_.standing(b);
    }
    return both(a, b);
}

}  // namespace lanyard::encode
