// Expressions that hold no memory.
#include "encode/encoder.hpp"

namespace lanyard {

z3::expr Encoder::boolean(const Expr& e, const Owner& who) {
    const auto arg = [&](std::size_t i) { return boolean(*e.args[i], who); };
    switch (e.op) {
        case Op::truth:
            return truth(e.flag);
        case Op::signal:
            // The controller knows what it commands; everybody else sees what comes of it.
            return who.controller ? signal(e.signal) : driving(e.signal);
        case Op::last:
            return last(e.signal);
        case Op::not_:
            return !arg(0);
        case Op::and_:
        case Op::or_: {
            z3::expr_vector all(ctx_);
            for (std::size_t i = 0; i < e.args.size(); ++i) all.push_back(arg(i));
            return e.op == Op::and_ ? all_of(all) : any_of(all);
        }
        case Op::xor_: {
            z3::expr odd = arg(0);
            for (std::size_t i = 1; i < e.args.size(); ++i) odd = odd != arg(i);
            return odd;
        }
        case Op::implies:
            return z3::implies(arg(0), arg(1));
        case Op::vote: {
            std::vector<z3::expr> of;
            for (std::size_t i = 0; i < e.args.size(); ++i) of.push_back(arg(i));
            return vote(of, e.count);
        }
        case Op::lt:
        case Op::le:
        case Op::gt:
        case Op::ge:
        case Op::eq:
        case Op::ne:
            return comparison(e, who);
        case Op::ton:
        case Op::tof:
        case Op::tp:
        case Op::sr:
        case Op::rs:
        case Op::r_trig:
        case Op::f_trig:
        case Op::ctu:
        case Op::band:
        case Op::previous:
            return element(e, who);
        case Op::number:
        case Op::mode:
        case Op::add:
        case Op::sub:
        case Op::mul:
        case Op::div:
        case Op::neg:
        case Op::table:
        case Op::rate:
            break;
    }
    throw Unsupported{"a number stands where a truth is wanted"};
}

z3::expr Encoder::vote(const std::vector<z3::expr>& of, long m) {
    // at[j]: at least j of those seen so far
    std::vector<z3::expr> at(static_cast<std::size_t>(m) + 1, truth(false));
    at[0] = truth(true);
    for (const auto& x : of)
        for (std::size_t j = at.size() - 1; j >= 1; --j) at[j] = at[j] || (at[j - 1] && x);
    return at.back();
}

std::pair<z3::expr, z3::expr> Encoder::mode_bits(const Expr& e, const Owner& who) {
    (void)who;
    if (e.op == Op::mode) {
        const int m = static_cast<int>(e.mode);
        return {truth((m & 2) != 0), truth((m & 1) != 0)};
    }
    if (e.op != Op::signal) throw Unsupported{"an engine mode is compared with something that is none"};
    engine();
    return *mode_;
}

z3::expr Encoder::comparison(const Expr& e, const Owner& who) {
    const Expr& a = *e.args[0];
    const Expr& b = *e.args[1];
    if (a.type.kind == TypeKind::boolean) {
        const z3::expr equal = boolean(a, who) == boolean(b, who);
        return e.op == Op::eq ? equal : !equal;
    }
    if (a.type.kind == TypeKind::mode) {
        const auto x = mode_bits(a, who);
        const auto y = mode_bits(b, who);
        const z3::expr equal = x.first == y.first && x.second == y.second;
        return e.op == Op::eq ? equal : !equal;
    }
    return compare(e.op, number(a, who), number(b, who));
}

z3::expr Encoder::compare(Op op, const Num& a, const Num& b) {
    const auto test = [&](const z3::expr& x, const z3::expr& y) {
        if (op == Op::lt) return x < y;
        if (op == Op::le) return x <= y;
        if (op == Op::gt) return x > y;
        if (op == Op::ge) return x >= y;
        if (op == Op::eq) return x == y;
        return x != y;
    };
    const z3::expr now = test(a.first, b.first);
    if (!a.moving && !b.moving) return now;
    s_.paths.push_back({a.first - b.first, a.last - b.last, true});
    if (op == Op::eq || op == Op::ne) {
        // A straight path may cross a single point between its ends: split it into two half-spaces.
        same(a.first < b.first, a.last < b.last);
        same(a.first > b.first, a.last > b.last);
    } else {
        same(now, test(a.last, b.last));
    }
    return now;
}

Num Encoder::number(const Expr& e, const Owner& who) {
    const auto arg = [&](std::size_t i) { return number(*e.args[i], who); };
    const auto both = [](const Num& a, const Num& b, auto f) {
        return Num{f(a.first, b.first), f(a.last, b.last), a.moving || b.moving};
    };
    switch (e.op) {
        case Op::number: {
            const z3::expr v = rational(e.value);
            return {v, v, false};
        }
        case Op::signal:
            return signal_number(e.signal);
        case Op::add:
            return both(arg(0), arg(1), [](const z3::expr& x, const z3::expr& y) { return x + y; });
        case Op::sub:
            return both(arg(0), arg(1), [](const z3::expr& x, const z3::expr& y) { return x - y; });
        case Op::neg: {
            const Num a = arg(0);
            return {-a.first, -a.last, a.moving};
        }
        case Op::mul: {
            const Num a = arg(0);
            const Num b = arg(1);
            if (e.args[0]->op != Op::number && e.args[1]->op != Op::number) {
                standing(a);
                standing(b);
            }
            return both(a, b, [](const z3::expr& x, const z3::expr& y) { return x * y; });
        }
        case Op::div:
            return both(arg(0), arg(1), [](const z3::expr& x, const z3::expr& y) { return x / y; });
        case Op::table:
            return table(e, who);
        case Op::rate:
        case Op::previous:
            return number_element(e, who);
        case Op::last: {
            const Signal& s = m_.signal(e.signal);
            if (s.kind == SignalKind::quantity) {
                // Only in the quantity's own lines; world.cpp has put the remembered value there.
                return numbers_.at(-1 - e.signal);
            }
            throw Unsupported{"the last value of the number '" + s.name + "' is used"};
        }
        case Op::truth:
        case Op::mode:
        case Op::not_:
        case Op::and_:
        case Op::or_:
        case Op::xor_:
        case Op::implies:
        case Op::vote:
        case Op::lt:
        case Op::le:
        case Op::gt:
        case Op::ge:
        case Op::eq:
        case Op::ne:
        case Op::ton:
        case Op::tof:
        case Op::tp:
        case Op::sr:
        case Op::rs:
        case Op::r_trig:
        case Op::f_trig:
        case Op::ctu:
        case Op::band:
            break;
    }
    throw Unsupported{"a truth stands where a number is wanted"};
}

}  // namespace lanyard
