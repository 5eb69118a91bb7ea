#include "liar.hpp"

namespace lanyard::test {

using namespace encode;

// True exactly once: at the planned place of the planned kind.
bool Liar::now(Lie kind) {
    const long place = seen_[ordinal(kind)].fetch_add(1);
    if (kind_ != kind || place != at_) return false;
    has_lied_ = true;
    return true;
}

Answer Liar::answer(Answer truth) {
    if (truth == Answer::unsatisfiable && now(Lie::flip_to_sat)) return Answer::satisfiable;
    if (truth == Answer::satisfiable && now(Lie::flip_to_unsat)) return Answer::unsatisfiable;
    if (truth == Answer::unknown && now(Lie::unknown_to_unsat)) return Answer::unsatisfiable;
    return truth;
}

z3::expr Liar::value(const z3::expr& truth) {
    if (truth.is_bool() && now(Lie::change_value)) return truth.ctx().bool_val(!truth.is_true());
    if (truth.is_arith() && now(Lie::change_value)) return (truth + 1).simplify();
    return truth;
}

z3::expr Liar::invariant(const z3::expr& truth) {
    std::vector<z3::expr> parts;
    if (truth.is_and())
        for (unsigned i = 0; i < truth.num_args(); ++i) parts.push_back(truth.arg(i));
    else
        parts.push_back(truth);
    const std::size_t which = which_ % parts.size();
    if (now(Lie::drop_conjunct))
        parts.erase(parts.begin() + static_cast<long>(which));
    else if (parts.size() > 1 && now(Lie::weaken_conjunct))
        parts[which] = parts[which] || parts[(which + 1) % parts.size()];
    z3::expr_vector all(truth.ctx());
    for (const auto& p : parts) all.push_back(p);
    return all_of(all);
}

void Liar::lemmas(std::vector<std::string>& truth) {
    if (truth.empty()) return;
    const std::size_t which = which_ % truth.size();
    if (now(Lie::drop_conjunct))
        truth.erase(truth.begin() + static_cast<long>(which));
    else if (truth.size() > 1 && now(Lie::weaken_conjunct))
        truth[which] = "(or " + truth[which] + " " + truth[(which + 1) % truth.size()] + ")";
}

}  // namespace lanyard::test
