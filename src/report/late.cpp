#include "report/late.hpp"

#include <algorithm>

#include "claims/bounds.hpp"
#include "sim/interpreter.hpp"
#include "sim/world.hpp"

namespace lanyard::report {

namespace {

constexpr long most_scans = 20000;

// The next scan like the last one; where the rules do not let it be, the nearest that they let.
std::optional<Scan> played_on(const Model& m, const World& world, Interpreter& now, Choices& choices) {
    if (!now.check(choices).empty()) {
        const Proposal p = world.propose(now, Wish(m, choices));
        if (!p.choices) return std::nullopt;
        choices = *p.choices;
    }
    return now.step(choices);
}

}  // namespace

Late how_late(const Model& m, const Run& run, ClaimId claim) {
    const Claim& c = m.claims[claim];
    const auto* response = std::get_if<Response>(&c.body);
    Late out;
    if (response == nullptr || run.segments.empty()) return out;
    if (response->manner != Manner::while_it_lasts && response_is_too_fast(*response, m.scan)) {
        out.over = true;
        return out;
    }
    Interpreter now(m, c.condition, claim);
    const World world(m, c.condition, claim);
    if (!play(now, run).broken_rule.empty()) return out;
    Choices choices = choices_at(run, run.scans() - 1);
    const long limit = std::min(most_scans, std::max(1000L, 2 * response_bound(*response, m.scan)));
    for (out.looked = 1; out.looked <= limit; ++out.looked) {
        const auto s = played_on(m, world, now, choices);
        // What was called for once is owed whatever follows.
        const bool lasts = response->manner != Manner::while_it_lasts || (s && s->demanded);
        if (!s || !s->broken_rule.empty() || !lasts) {
            out.over = true;
            return out;
        }
        if (!s->violated) {
            out.scans = out.looked;
            return out;
        }
    }
    --out.looked;
    return out;
}

}  // namespace lanyard::report
