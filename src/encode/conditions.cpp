#include "encode/conditions.hpp"

#include <algorithm>

namespace lanyard::encode {

Conditions::Conditions(const EncoderPart& base, ConditionId condition, ClaimId claim)
    : EncoderPart(base), parts_{&m_.conditions[condition]} {
    if (!claim || !m_.claims[claim].reached_under) return;
    const Condition* first = &m_.conditions[m_.claims[claim].reached_under];
    if (first != parts_.front()) parts_.insert(parts_.begin(), first);
    second_ = s_.state({StateRole::begun, Whole::claim}, truth(false), "claim");
}

z3::expr Conditions::begun() {
    if (!begun_) {
        begun_ = s_.state({StateRole::begun}, truth(false), "");
        s_.state_next(*begun_, truth(true));
    }
    return *begun_;
}

bool Conditions::ever_healthy() const {
    return std::any_of(parts_.begin(), parts_.end(), [](const Condition* c) { return c->healthy; });
}

z3::expr Conditions::in_part(std::size_t part) {
    if (parts_.size() == 1) return truth(true);
    return part == 0 ? !*second_ : *second_;
}

z3::expr Conditions::healthy() {
    z3::expr_vector any(ctx_);
    for (std::size_t part = 0; part < parts_.size(); ++part)
        if (parts_[part]->healthy) any.push_back(in_part(part));
    return any.size() == parts_.size() ? truth(true) : any_of(any);
}

void Conditions::healthy_rule(const std::string& label, const z3::expr& holds) {
    if (!ever_healthy()) return;
    const z3::expr where = healthy();
    s_.rule(label, where.is_true() ? holds : z3::implies(where, holds));
}

void Conditions::rule_in(std::size_t part, const std::string& label, const z3::expr& holds) {
    s_.rule(label, parts_.size() == 1 ? holds : z3::implies(in_part(part), holds));
}

void Conditions::add_lines() {
    int number = 0;
    for (std::size_t part = 0; part < parts_.size(); ++part) {
        const Condition& c = *parts_[part];
        int line = 0;
        for (const auto& e : c.holds) {
            const z3::expr holds = meaning_.boolean(*e, {"condition" + std::to_string(++number), false});
            s_.add_output(holds);
            const std::string which = c.holds.size() > 1 ? " " + std::to_string(++line) : "";
            rule_in(part, "condition: " + c.name + which, holds);
        }
    }
}

}  // namespace lanyard::encode
