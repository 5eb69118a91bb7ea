#include "model/make_expr.hpp"

#include "lang/print.hpp"

namespace lanyard::model {

ExprPtr signal_expr(const Model& model, SignalId id) {
    auto e = std::make_shared<Expr>();
    e->op = Op::signal;
    e->signal = id;
    e->type = model.signal(id).type;
    return e;
}

ExprPtr boolean_expr(Op op, std::vector<ExprPtr> args, const Place& place) {
    auto e = std::make_shared<Expr>();
    e->op = op;
    e->args = std::move(args);
    e->place = place;
    return e;
}

ExprPtr truth_expr(bool flag, const Place& place) {
    auto e = std::make_shared<Expr>();
    e->flag = flag;
    e->place = place;
    return e;
}

ExprPtr number_expr(const Rational& value, const Type& type) {
    auto e = std::make_shared<Expr>();
    e->op = Op::number;
    e->type = type;
    e->value = value;
    return e;
}

ExprPtr mode_expr(Mode mode) {
    auto e = std::make_shared<Expr>();
    e->op = Op::mode;
    e->type = Type::of_mode();
    e->mode = mode;
    return e;
}

std::string text_of(const Model& m, const Expr& e) {
    return print(
        e, [&m](SignalId id) { return m.name_of(id); }, [&m](TableId id) { return m.tables[id].name; });
}

}  // namespace lanyard::model
