#include "sim/evaluate.hpp"

namespace lanyard::sim {

Evaluator::Evaluator(const Program& program)
    : program_(&program),
      slots_(static_cast<std::size_t>(program.size())),
      numbers_(static_cast<std::size_t>(program.numbers())) {}

void Evaluator::run(const Environment& env, int from, int to) {
    for (int i = from; i < to; ++i) step(env, i);
}

void Evaluator::remember(const Environment& env) {
    for (const auto& late : program_->late()) {
        env.elements[static_cast<std::size_t>(late.element)].value = value(env, late.operand);
    }
}

Value Evaluator::value(const Environment& env, int node) const {
    const auto& s = slots_[static_cast<std::size_t>(node)];
    const TypeKind kind = program_->node(node).expr->type.kind;
    if (kind == TypeKind::boolean) return s.truth;
    if (kind == TypeKind::mode) return s.mode;
    return number(env, node);
}

const Rational& Evaluator::number(const Environment& env, int node) const {
    const Node& n = program_->node(node);
    const Expr& e = *n.expr;
    if (e.op == Op::number) return e.value;
    if (e.op == Op::signal) return std::get<Rational>(env.now[static_cast<std::size_t>(e.signal)]);
    if (e.op == Op::last) return std::get<Rational>(env.last[static_cast<std::size_t>(e.signal)]);
    return numbers_[static_cast<std::size_t>(n.number)];
}

void Evaluator::step_leaf(const Environment& env, const Expr& e, Slot& out) {
    if (e.op == Op::truth) {
        out.truth = e.flag;
    } else if (e.op == Op::mode) {
        out.mode = e.mode;
    } else if (e.op == Op::signal || e.op == Op::last) {
        const Value& v = (e.op == Op::last ? env.last : env.now)[static_cast<std::size_t>(e.signal)];
        if (const auto* b = std::get_if<bool>(&v)) out.truth = *b;
        if (const auto* m = std::get_if<Mode>(&v)) out.mode = *m;
    }
}

long Evaluator::count_true(const Node& n) const {
    long k = 0;
    for (const int a : n.args) k += truth(a) ? 1 : 0;
    return k;
}

namespace {

template <class T>
bool compare_values(Op op, const T& a, const T& b) {
    if (op == Op::lt) return a < b;
    if (op == Op::le) return a <= b;
    if (op == Op::gt) return a > b;
    if (op == Op::ge) return a >= b;
    return (a == b) == (op == Op::eq);
}

}  // namespace

bool Evaluator::compare(const Environment& env, const Node& n) const {
    const auto a = static_cast<std::size_t>(n.args[0]);
    const auto b = static_cast<std::size_t>(n.args[1]);
    const TypeKind kind = n.expr->args[0]->type.kind;
    if (kind == TypeKind::boolean) return compare_values(n.expr->op, slots_[a].truth, slots_[b].truth);
    if (kind == TypeKind::mode) return compare_values(n.expr->op, slots_[a].mode, slots_[b].mode);
    return compare_values(n.expr->op, number(env, n.args[0]), number(env, n.args[1]));
}

void Evaluator::arithmetic(const Environment& env, const Node& n, Rational& out) const {
    const Op op = n.expr->op;
    out = number(env, n.args[0]);
    if (op == Op::neg) out = -out;
    for (std::size_t k = 1; k < n.args.size(); ++k) {
        const Rational& x = number(env, n.args[k]);
        if (op == Op::add) out += x;
        if (op == Op::sub) out -= x;
        if (op == Op::mul) out *= x;
        if (op == Op::div) out /= x;
    }
}

void Evaluator::step_element(const Environment& env, const Node& n, Slot& out) {
    ElementState& s = env.elements[static_cast<std::size_t>(n.expr->element)];
    const Op op = n.expr->op;
    if (op == Op::ton) out.truth = step_ton(s, arg(n, 0), n.scans);
    if (op == Op::tof) out.truth = step_tof(s, arg(n, 0), n.scans);
    if (op == Op::tp) out.truth = step_tp(s, arg(n, 0), n.scans);
    if (op == Op::sr) out.truth = step_sr(s, arg(n, 0), arg(n, 1));
    if (op == Op::rs) out.truth = step_rs(s, arg(n, 0), arg(n, 1));
    if (op == Op::r_trig) out.truth = step_r_trig(s, arg(n, 0));
    if (op == Op::f_trig) out.truth = step_f_trig(s, arg(n, 0));
    if (op == Op::ctu) out.truth = step_ctu(s, arg(n, 0), arg(n, 1), n.expr->count);
    if (op == Op::band) out.truth = step_band(s, arg(n, 0), arg(n, 1));
    if (op == Op::rate) step_rate(s, number(env, n.args[0]), n, number_of(n));
    if (op == Op::previous) {
        if (const auto* b = std::get_if<bool>(&s.value)) out.truth = *b;
        if (const auto* x = std::get_if<Rational>(&s.value)) number_of(n) = *x;
        if (const auto* m = std::get_if<Mode>(&s.value)) out.mode = *m;
    }
}

void Evaluator::step(const Environment& env, int node) {
    const Node& n = program_->node(node);
    Slot& out = slot(node);
    switch (n.expr->op) {
        case Op::truth:
        case Op::number:
        case Op::mode:
        case Op::signal:
        case Op::last:
            return step_leaf(env, *n.expr, out);
        case Op::not_:
            out.truth = !arg(n, 0);
            return;
        case Op::and_:
            out.truth = count_true(n) == static_cast<long>(n.args.size());
            return;
        case Op::or_:
            out.truth = count_true(n) > 0;
            return;
        case Op::xor_:
            out.truth = count_true(n) % 2 == 1;
            return;
        case Op::implies:
            out.truth = !arg(n, 0) || arg(n, 1);
            return;
        case Op::vote:
            out.truth = count_true(n) >= n.expr->count;
            return;
        case Op::lt:
        case Op::le:
        case Op::gt:
        case Op::ge:
        case Op::eq:
        case Op::ne:
            out.truth = compare(env, n);
            return;
        case Op::add:
        case Op::sub:
        case Op::mul:
        case Op::div:
        case Op::neg:
            return arithmetic(env, n, number_of(n));
        case Op::table: {
            const auto& t = program_->model().tables[static_cast<std::size_t>(n.expr->table)];
            number_of(n) = look_up(t, number(env, n.args[0]), n.args.size() > 1 ? number(env, n.args[1]) : Rational(0));
            return;
        }
        case Op::ton:
        case Op::tof:
        case Op::tp:
        case Op::sr:
        case Op::rs:
        case Op::r_trig:
        case Op::f_trig:
        case Op::ctu:
        case Op::band:
        case Op::rate:
        case Op::previous:
            return step_element(env, n, out);
    }
}

}  // namespace lanyard::sim
