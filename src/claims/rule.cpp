#include "claims/rule.hpp"

#include "model/make_expr.hpp"

namespace lanyard::claims {

std::optional<Rule> rule_of(const Claim& c) {
    if (const auto* r = std::get_if<Response>(&c.body)) return Rule{r->whenever, r->then};
    const auto* a = std::get_if<Always>(&c.body);
    if (a == nullptr) return std::nullopt;
    if (a->body->op == Op::implies) return Rule{a->body->args[0], a->body->args[1]};
    if (a->body->op != Op::not_) return std::nullopt;
    const Expr& never = *a->body->args[0];
    const bool both = never.op == Op::and_ || (never.op == Op::vote && never.count == 2);
    if (!both || never.args.size() < 2) return std::nullopt;
    return Rule{never.args[0], boolean_expr(Op::not_, {never.args[1]})};
}

}  // namespace lanyard::claims
