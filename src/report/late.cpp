// How late an answer is, and how long what must not be goes on.
#include <algorithm>

#include "claims/bounds.hpp"
#include "report/film.hpp"
#include "sim/world.hpp"

namespace lanyard::report {

namespace {

const Rational longest = 180;         // seconds
constexpr long most_scans = 20000;    // that are played
constexpr long looks_for_rest = 100;  // scans from one look at whether nothing moves any more to the next

// The next scan like the last one; where the rules do not let it be, the nearest that they let.
std::optional<Scan> played_on(const Model& m, const World& world, Interpreter& now, Choices& choices) {
    if (!now.check(choices).empty()) {
        const Proposal p = world.propose(now, Wish(m, choices));
        if (!p.choices) return std::nullopt;
        choices = *p.choices;
    }
    return now.step(choices);
}

// Nothing has moved in the scan: it is the same for ever.
class Rest {
 public:
    bool found(const Interpreter& now, const Choices& choices, long scan) {
        if (scan % looks_for_rest > 1) return false;
        std::string state = now.state_text();
        const bool same = scan % looks_for_rest == 1 && state == state_ && choices == choices_;
        state_ = std::move(state);
        choices_ = choices;
        return same;
    }

 private:
    std::string state_;
    Choices choices_;
};

Late how_late(const Film& film, ClaimId claim, Interpreter now) {
    const Model& m = film.model();
    const Run& run = film.run();
    const auto* response = std::get_if<Response>(&film.claim()->body);
    Late out;
    const bool lasting = response != nullptr || std::holds_alternative<Always>(film.claim()->body);
    if (!lasting || run.segments.empty()) return out;
    if (response != nullptr && response->manner != Manner::while_it_lasts && response_is_too_fast(*response, m.scan)) {
        out.over = true;
        return out;
    }
    if (!film.broken_rule().empty()) return out;
    const World world(m, film.condition(), claim);
    Choices choices = choices_at(run, run.scans() - 1);
    const long bound = response != nullptr ? response_bound(*response, m.scan) : 1;
    long limit = std::max(scans_up(longest, m.scan), 2 * bound);
    // Whatever the condition allows, no engine coasts for longer.
    if (choices.next_mode == Mode::coasting) limit = std::max(1L, scans_up(m.engine->coast_down.hi, m.scan));
    Rest rest;
    for (out.looked = 1; out.looked <= std::min(limit, most_scans); ++out.looked) {
        const auto s = played_on(m, world, now, choices);
        // What was called for once is owed whatever follows.
        const bool lasts =
            response == nullptr ? s && s->violated : response->manner != Manner::while_it_lasts || (s && s->demanded);
        if (!s || !s->broken_rule.empty() || !lasts) {
            out.over = true;
            return out;
        }
        if (!s->violated) {
            out.scans = out.looked;
            return out;
        }
        if (rest.found(now, choices, out.looked)) {
            out.looked = limit;
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
