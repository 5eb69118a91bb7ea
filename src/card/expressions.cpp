#include "card/expressions.hpp"

#include <algorithm>

namespace lanyard::card {

ExprPtr replaced(const ExprPtr& e, const std::function<ExprPtr(const Expr&)>& f) {
    if (!e) return e;
    if (ExprPtr other = f(*e)) return other;
    std::vector<ExprPtr> args;
    bool same = true;
    for (const auto& a : e->args) {
        args.push_back(replaced(a, f));
        same = same && args.back() == a;
    }
    if (same) return e;
    auto out = std::make_shared<Expr>(*e);
    out->args = std::move(args);
    return out;
}

bool is_structure(const Expr& e) {
    const bool compares_truths = (e.op == Op::eq || e.op == Op::ne) && e.args.front()->type.kind == TypeKind::boolean;
    return e.op == Op::truth || class_of(e.op) == OpClass::logic || compares_truths;
}

bool value_of(const Expr& e, const std::function<bool(const Expr&)>& leaf) {
    if (!is_structure(e)) return leaf(e);
    const auto arg = [&](std::size_t k) { return value_of(*e.args[k], leaf); };
    const auto count = [&] {
        return std::count_if(e.args.begin(), e.args.end(), [&](const auto& a) { return value_of(*a, leaf); });
    };
    static_assert(size_of(OpClass::logic) == 6);
    if (e.op == Op::truth) return e.flag;
    if (e.op == Op::not_) return !arg(0);
    if (e.op == Op::and_) return count() == std::ssize(e.args);
    if (e.op == Op::or_) return count() > 0;
    if (e.op == Op::xor_) return count() % 2 == 1;
    if (e.op == Op::implies) return !arg(0) || arg(1);
    if (e.op == Op::vote) return count() >= e.count;
    return (e.op == Op::eq) == (arg(0) == arg(1));
}

SignalId add_signal(Model& model, const std::string& name, SignalKind kind, const Type& type, AnyId index) {
    Signal s;
    s.name = name;
    s.kind = kind;
    s.type = type;
    s.index = index;
    return model.signals.add(std::move(s));
}

SwitchId add_switch(Model& model, const std::string& name) {
    const SwitchId index = model.switches.next();
    Switch s;
    s.position = add_signal(model, name, SignalKind::position, Type::boolean(), index);
    s.seen = add_signal(model, name + ".seen", SignalKind::seen, Type::boolean(), index);
    return model.switches.add(std::move(s));
}

SignalId add_logic(Model& model, const std::string& name, ExprPtr is, bool retained) {
    Logic l;
    l.signal = add_signal(model, name, SignalKind::logic, is->type, model.logic.next());
    l.is = std::move(is);
    l.retained = retained;
    model.logic.push_back(std::move(l));
    return model.logic.back().signal;
}

void define(Model& model, SignalId id, ExprPtr is) {
    const Signal& s = model.signal(id);
    (s.kind == SignalKind::output ? model.outputs[s.index].on : model.logic[s.index].is) = std::move(is);
}

}  // namespace lanyard::card
