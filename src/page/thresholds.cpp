#include "page/thresholds.hpp"

#include <algorithm>

namespace lanyard::page {

namespace {

constexpr std::size_t most = 5;

}  // namespace

std::vector<Rational> thresholds_of(const Model& m, const std::set<SignalId>& logic, const std::set<SignalId>& signals,
                                    const Claim* claim) {
    std::vector<Rational> out;
    const auto look = [&](const Expr& e) {
        if (!is_comparison(e.op)) return;
        for (const std::size_t k : {0U, 1U}) {
            const Expr& a = *e.args[k];
            const Expr& b = *e.args[1 - k];
            if (a.op == Op::signal && signals.contains(a.signal) && b.op == Op::number) out.push_back(b.value);
        }
    };
    if (claim != nullptr)
        for (const auto& e : expressions_of(*claim)) visit(e, look);
    for (const SignalId id : m.order)
        if (logic.contains(id)) visit(definition(m, id), look);
    std::vector<Rational> once;
    for (const auto& x : out)
        if (once.size() < most && std::find(once.begin(), once.end(), x) == once.end()) once.push_back(x);
    std::sort(once.begin(), once.end());
    return once;
}

}  // namespace lanyard::page
