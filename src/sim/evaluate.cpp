#include "sim/evaluate.hpp"

namespace lanyard::sim {

Evaluator::Evaluator(const Program& program)
    : program_(&program), slots_(program.size()), numbers_(program.numbers()) {}

void Evaluator::run(const Environment& env, std::size_t from, std::size_t to) {
    for (std::size_t i = from; i < to; ++i) step(env, OperationId(i));
}

void Evaluator::remember(const Environment& env) {
    for (const auto& late : program_->late()) {
        env.elements[late.element].value = value(env, late.operand);
    }
}

Value Evaluator::value(const Environment& env, OperationId id) const {
    const auto& s = slots_[id];
    const TypeKind kind = program_->operation(id).expr->type.kind;
    if (kind == TypeKind::boolean) return s.truth;
    if (kind == TypeKind::mode) return s.mode;
    return number(env, id);
}

const Rational& Evaluator::number(const Environment& env, OperationId id) const {
    const Operation& n = program_->operation(id);
    const Expr& e = *n.expr;
    if (e.op == Op::number) return e.value;
    if (e.op == Op::signal) return std::get<Rational>(env.now[e.signal]);
    if (e.op == Op::last) return std::get<Rational>(env.last[e.signal]);
    return numbers_[n.number];
}

void Evaluator::step_leaf(const Environment& env, const Expr& e, Slot& out) {
    static_assert(size_of(OpClass::leaf) == 5);
    if (e.op == Op::truth) {
        out.truth = e.flag;
    } else if (e.op == Op::mode) {
        out.mode = e.mode;
    } else if (e.op == Op::signal || e.op == Op::last) {
        const Value& v = (e.op == Op::last ? env.last : env.now)[e.signal];
        if (const auto* b = std::get_if<bool>(&v)) out.truth = *b;
        if (const auto* m = std::get_if<Mode>(&v)) out.mode = *m;
    }
}

long Evaluator::count_true(const Operation& n) const {
    long k = 0;
    for (const OperationId a : n.args) k += truth(a) ? 1 : 0;
    return k;
}

namespace {

static_assert(size_of(OpClass::comparison) == 6);

template <class T>
bool compare_values(Op op, const T& a, const T& b) {
    if (op == Op::lt) return a < b;
    if (op == Op::le) return a <= b;
    if (op == Op::gt) return a > b;
    if (op == Op::ge) return a >= b;
    return (a == b) == (op == Op::eq);
}

}  // namespace

bool Evaluator::compare(const Environment& env, const Operation& n) const {
    const OperationId a = n.args[0], b = n.args[1];
    const TypeKind kind = n.expr->args[0]->type.kind;
    if (kind == TypeKind::boolean) return compare_values(n.expr->op, slots_[a].truth, slots_[b].truth);
    if (kind == TypeKind::mode) return compare_values(n.expr->op, slots_[a].mode, slots_[b].mode);
    return compare_values(n.expr->op, number(env, a), number(env, b));
}

void Evaluator::arithmetic(const Environment& env, const Operation& n, Rational& out) const {
    static_assert(size_of(OpClass::arithmetic) == 5);
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

bool Evaluator::logic(const Operation& n) const {
    static_assert(size_of(OpClass::logic) == 6);
    const Op op = n.expr->op;
    const long all = std::ssize(n.args), on = count_true(n);
    if (op == Op::not_) return on == 0;
    if (op == Op::and_) return on == all;
    if (op == Op::or_) return on > 0;
    if (op == Op::xor_) return on % 2 == 1;
    if (op == Op::implies) return !arg(n, 0) || arg(n, 1);
    return on >= n.expr->count;  // vote
}

void Evaluator::step_previous(const Environment& env, const Operation& n, Slot& out) {
    const Value& before = env.elements[n.expr->element].value;
    if (const auto* b = std::get_if<bool>(&before)) out.truth = *b;
    if (const auto* x = std::get_if<Rational>(&before)) number_of(n) = *x;
    if (const auto* m = std::get_if<Mode>(&before)) out.mode = *m;
}

bool Evaluator::step_element(const Environment& env, const Operation& n) {
    ElementState& s = env.elements[n.expr->element];
    return sim::step(n.expr->op, s, {arg(n, 0), n.args.size() > 1 && arg(n, 1), n.scans, n.expr->count});
}

void Evaluator::step(const Environment& env, OperationId id) {
    const Operation& n = program_->operation(id);
    Slot& out = slot(id);
    switch (class_of(n.expr->op)) {
        case OpClass::leaf:
            return step_leaf(env, *n.expr, out);
        case OpClass::logic:
            out.truth = logic(n);
            return;
        case OpClass::comparison:
            out.truth = compare(env, n);
            return;
        case OpClass::arithmetic:
            return arithmetic(env, n, number_of(n));
        case OpClass::table: {
            const auto& t = program_->model().tables[n.expr->table];
            number_of(n) = look_up(t, number(env, n.args[0]), n.args.size() > 1 ? number(env, n.args[1]) : Rational(0));
            return;
        }
        case OpClass::clock:
        case OpClass::latch:
        case OpClass::edge:
        case OpClass::counter:
        case OpClass::band:
            out.truth = step_element(env, n);
            return;
        case OpClass::rate:
            return step_rate(env.elements[n.expr->element], number(env, n.args[0]), n, number_of(n));
        case OpClass::previous:
            return step_previous(env, n, out);
    }
}

}  // namespace lanyard::sim
