#include "prove/horn.hpp"

#include <sstream>

namespace lanyard::prove {

namespace {

z3::expr close(const System& s, const z3::expr& body) {
    z3::expr_vector bound(*s.ctx);
    for (const auto& v : s.state) bound.push_back(v.cur);
    for (const auto& i : s.inputs) bound.push_back(i.var);
    bound.push_back(s.k);
    return z3::forall(bound, body);
}

}  // namespace

Horn horn_of(const System& s, const z3::expr& target, const std::vector<z3::expr>& lemmas) {
    z3::context& ctx = *s.ctx;
    z3::sort_vector sorts(ctx);
    z3::expr_vector cur(ctx), next(ctx), init(ctx);
    std::vector<z3::expr> arguments;
    for (const auto& v : s.state) {
        sorts.push_back(v.cur.get_sort());
        cur.push_back(v.cur);
        next.push_back(v.next);
        init.push_back(v.init);
        arguments.push_back(v.cur);
    }
    const z3::func_decl inv = ctx.function("reachable", sorts, ctx.bool_sort());
    const z3::func_decl goal = ctx.function("hit", z3::sort_vector(ctx), ctx.bool_sort());
    z3::expr_vector known(ctx);
    known.push_back(inv(cur));
    for (const auto& l : lemmas) known.push_back(l);
    known.push_back(s.all_rules());
    const z3::expr legal = all_of(known);
    std::vector<z3::expr> rules;
    rules.push_back(inv(init));
    rules.push_back(close(s, z3::implies(legal, inv(next))));
    rules.push_back(close(s, z3::implies(legal && target, goal())));
    return {rules, inv, goal, arguments};
}

std::string horn_text(const System& s, const z3::expr& target) {
    const Horn h = horn_of(s, target, {});
    std::ostringstream out;
    out << "(set-logic HORN)\n(declare-fun reachable (";
    for (std::size_t i = 0; i < s.state.size(); ++i) out << (i ? " " : "") << s.state[i].cur.get_sort();
    out << ") Bool)\n(declare-fun hit () Bool)\n";
    for (const auto& r : h.rules) out << "(assert " << r << ")\n";
    out << "(assert (not hit))\n(check-sat)\n";
    return out.str();
}

std::vector<std::string> conjuncts(const z3::expr& e) {
    std::vector<std::string> out;
    std::vector<z3::expr> open{e};
    while (!open.empty()) {
        const z3::expr x = open.back();
        open.pop_back();
        if (x.is_and()) {
            for (unsigned i = x.num_args(); i-- > 0;) open.push_back(x.arg(i));
        } else if (!x.is_true()) {
            out.push_back(x.to_string());
        }
    }
    return out;
}

}  // namespace lanyard::prove
