#include "encode/linear.hpp"

namespace lanyard::encode {

bool same_expression(const Expr& a, const Expr& b) {
    if (&a == &b) return true;
    if (a.op != b.op || a.args.size() != b.args.size()) return false;
    if (a.flag != b.flag || a.value != b.value || a.mode != b.mode || a.signal != b.signal || a.element != b.element ||
        a.table != b.table || a.count != b.count)
        return false;
    for (std::size_t i = 0; i < a.args.size(); ++i)
        if (!same_expression(*a.args[i], *b.args[i])) return false;
    return true;
}

namespace {

void add(Affine& to, const Affine& more, const Rational& times) {
    to.constant += more.constant * times;
    for (const auto& t : more.terms) {
        auto known = to.terms.begin();
        while (known != to.terms.end() && !same_expression(*known->what, *t.what)) ++known;
        if (known == to.terms.end())
            to.terms.push_back({t.what, t.coefficient * times});
        else
            known->coefficient += t.coefficient * times;
    }
    std::erase_if(to.terms, [](const Affine::Term& t) { return t.coefficient == 0; });
}

}  // namespace

Affine affine(const Expr& e, const Model& m, bool through_logic) {
    if (e.op == Op::number) return {{}, e.value};
    if (e.op == Op::signal) {
        const Signal& s = m.signal(e.signal);
        if (s.kind == SignalKind::logic && through_logic) return affine(*m.logic[s.index].is, m, through_logic);
    }
    if (!is_arithmetic(e.op)) return {{{&e, 1}}, 0};
    static_assert(size_of(OpClass::arithmetic) == 5);
    Affine a = affine(*e.args[0], m, through_logic), out;
    if (e.op == Op::neg) {
        add(out, a, -1);
        return out;
    }
    const Affine b = affine(*e.args[1], m, through_logic);
    if (e.op == Op::add || e.op == Op::sub) {
        add(a, b, e.op == Op::add ? 1 : -1);
        return a;
    }
    if (e.op == Op::div) {
        if (!b.terms.empty() || b.constant == 0) return {{{&e, 1}}, 0};
        add(out, a, 1 / b.constant);
        return out;
    }
    if (!a.terms.empty() && !b.terms.empty()) return {{{&e, 1}}, 0};
    const bool left = a.terms.empty();
    add(out, left ? b : a, left ? a.constant : b.constant);
    return out;
}

std::optional<Linear> linear(const Expr& e, const Model& m, bool through_logic) {
    const Affine a = affine(e, m, through_logic);
    if (a.terms.empty()) return Linear{{}, 0, a.constant};
    const Affine::Term& t = a.terms.front();
    if (a.terms.size() > 1 || t.what->op != Op::signal) return std::nullopt;
    const SignalKind kind = m.signal(t.what->signal).kind;
    if (kind != SignalKind::quantity && kind != SignalKind::reading) return std::nullopt;
    return Linear{t.what->signal, t.coefficient, a.constant};
}

}  // namespace lanyard::encode
