#include "explain/order_of_causes.hpp"

#include <algorithm>
#include <utility>

#include "circuit/flow.hpp"
#include "sim/interpreter.hpp"
#include "sim/machine.hpp"

namespace lanyard::explain {

namespace {

// Per node, at the run's scan `end`, after what switches in that scan has switched.
std::vector<bool> plus_at(const Model& m, const Run& run, ClaimId claim, long end) {
    std::vector<bool> out;
    if (!m.circuit.exists()) return out;
    Interpreter now(m, m.claims[claim].condition, claim);
    play(now, first_scans(run, end + 1));
    const sim::Standing& s = now.machine().looks().standing[ordinal(sim::Look::rest)];
    const circuit::Flow flow(m.circuit, s.closed, s.both_ways, s.live);
    for (const NodeId n : m.circuit.nodes.ids()) out.push_back(flow.has_plus(n).must);
    return out;
}

long lost(const std::vector<bool>& before, const std::vector<bool>& after) {
    long out = 0;
    for (std::size_t k = 0; k < before.size(); ++k) out += before[k] && !after[k] ? 1 : 0;
    return out;
}

}  // namespace

void put_nearest_first(const Model& m, const Run& run, ClaimId claim, const Premise& premise,
                       std::vector<RunCause>& causes) {
    if (causes.size() < 2) return;
    const long end = run.scans() - 1;
    const std::vector<bool> is = plus_at(m, run, claim, end);
    using Distance = std::pair<bool, long>;
    std::vector<std::pair<Distance, RunCause>> out;
    for (auto& c : causes) {
        const Distance far{premise.is_gone_in(c.otherwise), lost(is, plus_at(m, c.otherwise, claim, end))};
        out.emplace_back(far, std::move(c));
    }
    std::stable_sort(out.begin(), out.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
    for (std::size_t k = 0; k < causes.size(); ++k) causes[k] = std::move(out[k].second);
}

}  // namespace lanyard::explain
