#include "card/impossible.hpp"

#include <bit>

#include "card/expressions.hpp"

namespace lanyard::card {

namespace {

// The controller has power and the conditions have these values.
ExprPtr is_combination(const Model& m, const Decision& d, Combination v, Combination matters) {
    std::vector<ExprPtr> all;
    if (m.may_lose_power()) all.push_back(signal_expr(m, m.powered));
    for (std::size_t c = 0; c < d.conditions.size(); ++c) {
        if ((matters >> c & 1U) == 0) continue;
        const ExprPtr e = signal_expr(m, d.conditions[c]);
        all.push_back((v >> c & 1U) ? e : boolean_expr(Op::not_, {e}));
    }
    return all.size() == 1 ? all.front() : boolean_expr(Op::and_, all);
}

Claim never(const Model& m, const Decision& d, Combination v, Combination matters) {
    Claim c;
    c.id = m.name_of(d.outcome) + " " + std::to_string(v) + " of " + std::to_string(matters);
    c.body = Always{boolean_expr(Op::not_, {is_combination(m, d, v, matters)})};
    return c;
}

std::vector<ClaimResult> judge_all(Model& m, const std::vector<Claim>& claims, DriverOptions driver) {
    m.claims = Indexed<Claim>(claims);
    driver.claims.clear();
    for (const ClaimId c : m.claims.ids()) driver.claims.push_back(c);
    return check_claims(m, driver).results;
}

void take_verdict(const Verdict& verdict, Combined& out) {
    if (std::holds_alternative<Refuted>(verdict)) {
        out.is = Possibility::in_passing;
    } else if (std::holds_alternative<Proved>(verdict)) {
        out.is = Possibility::impossible;
    } else if (const auto* open = std::get_if<Undecided>(&verdict)) {
        out.is = Possibility::undecided;
        out.why = open->reason;
    } else {
        out.why = "the question is vacuous for this model";
    }
}

// Two of the conditions are often enough: the same thresholds, a latch and what resets it.
void find_pairs(Model& m, const Points& points, Combined& q, const DriverOptions& limits) {
    const Decision& d = points.decisions[q.decision];
    std::vector<Claim> claims;
    std::vector<Combination> pairs;
    for (std::size_t a = 0; a < d.conditions.size(); ++a)
        for (std::size_t b = a + 1; b < d.conditions.size(); ++b) {
            pairs.push_back((1U << a) | (1U << b));
            claims.push_back(never(m, d, q.combination, pairs.back()));
        }
    DriverOptions quick = limits;
    quick.work_limit = std::min<std::uint64_t>(limits.work_limit, 2'000'000);
    const auto results = judge_all(m, claims, quick);
    for (std::size_t k = 0; k < results.size(); ++k) {
        Combined smaller = q;
        take_verdict(results[k].verdict, smaller);
        if (smaller.is != Possibility::impossible) continue;
        q = smaller;
        q.matters = pairs[k];
        return;
    }
}

}  // namespace

void ask_provers(const Points& points, std::vector<Combined>& questions, const DriverOptions& limits) {
    Model m = points.bench.model;
    std::vector<Claim> claims;
    for (auto& q : questions) {
        const Decision& d = points.decisions[q.decision];
        q.matters = (1U << d.conditions.size()) - 1;
        claims.push_back(never(m, d, q.combination, q.matters));
    }
    const auto results = judge_all(m, claims, limits);
    for (std::size_t k = 0; k < questions.size(); ++k) {
        take_verdict(results[k].verdict, questions[k]);
        if (questions[k].is == Possibility::impossible && std::popcount(questions[k].matters) > 2)
            find_pairs(m, points, questions[k], limits);
    }
}

}  // namespace lanyard::card
