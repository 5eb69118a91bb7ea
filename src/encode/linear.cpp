#include "encode/linear.hpp"

namespace lanyard {

std::optional<Linear> linear(const Expr& e, const Model& m, bool through_logic) {
    if (e.op == Op::number) return Linear{-1, 0, e.value};
    if (e.op == Op::signal) {
        const Signal& s = m.signal(e.signal);
        if (s.kind == SignalKind::quantity || s.kind == SignalKind::reading) return Linear{e.signal, 1, 0};
        if (s.kind == SignalKind::logic && through_logic)
            return linear(*m.logic[static_cast<std::size_t>(s.index)].is, m, through_logic);
        return std::nullopt;
    }
    if (e.op != Op::add && e.op != Op::sub && e.op != Op::mul && e.op != Op::div && e.op != Op::neg)
        return std::nullopt;
    const auto a = linear(*e.args[0], m, through_logic);
    if (!a) return std::nullopt;
    if (e.op == Op::neg) return Linear{a->leaf, -a->coefficient, -a->constant};
    const auto b = linear(*e.args[1], m, through_logic);
    if (!b) return std::nullopt;
    if (e.op == Op::mul) {
        if (a->leaf >= 0 && b->leaf >= 0) return std::nullopt;
        const Linear& x = a->leaf >= 0 ? *a : *b;
        const Rational& f = a->leaf >= 0 ? b->constant : a->constant;
        return Linear{x.leaf, x.coefficient * f, x.constant * f};
    }
    if (e.op == Op::div) {
        if (b->leaf >= 0 || b->constant == 0) return std::nullopt;
        return Linear{a->leaf, a->coefficient / b->constant, a->constant / b->constant};
    }
    if (a->leaf >= 0 && b->leaf >= 0 && a->leaf != b->leaf) return std::nullopt;
    const Rational sign = e.op == Op::sub ? -1 : 1;
    return Linear{a->leaf >= 0 ? a->leaf : b->leaf, a->coefficient + sign * b->coefficient,
                  a->constant + sign * b->constant};
}

}  // namespace lanyard
