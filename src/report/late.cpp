// How late an answer is.
#include <algorithm>

#include "claims/bounds.hpp"
#include "report/film.hpp"
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

Late how_late(const Film& film, ClaimId claim, Interpreter now) {
    const Model& m = film.model();
    const Run& run = film.run();
    const auto* response = std::get_if<Response>(&film.claim()->body);
    Late out;
    if (response == nullptr || run.segments.empty()) return out;
    if (response->manner != Manner::while_it_lasts && response_is_too_fast(*response, m.scan)) {
        out.over = true;
        return out;
    }
    if (!film.broken_rule().empty()) return out;
    const World world(m, film.condition(), claim);
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

}  // namespace

const Late& Film::late() const {
    std::call_once(late_once_, [this] { late_ = how_late(*this, claim_, interpreter_); });
    return late_;
}

}  // namespace lanyard::report
