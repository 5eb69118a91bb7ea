#include "fault/play_again.hpp"

#include <memory>

namespace lanyard::fault {

void play_again(const Model& m, const World& world, ConditionId condition, ClaimId claim, const Run& run,
                const std::function<bool(const Scan&)>& seen) {
    auto now = std::make_unique<Interpreter>(m, condition, claim);
    each_scan(run, [&](const Choices& c) {
        Choices wish = c;
        wish.wiring.resize(m.circuit.probes.size());
        Proposal p = world.propose(*now, Wish(m, wish));
        if (!p.choices) return false;
        now = std::move(p.after);
        return seen(p.scan);
    });
}

bool comes_again_to(bool Scan::*what, const Model& m, ClaimId claim, const Run& run) {
    const ConditionId condition = m.claims[claim].condition;
    bool is_there = false;
    play_again(m, World(m, condition, claim), condition, claim, run, [&](const Scan& s) {
        is_there = s.*what;
        return !is_there;
    });
    return is_there;
}

}  // namespace lanyard::fault
