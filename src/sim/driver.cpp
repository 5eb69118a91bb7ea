#include "sim/driver.hpp"

#include <algorithm>

namespace lanyard::sim {

DriverRules::DriverRules(const Model& model, const Procedure& procedure, Program& observers) : procedure_(&procedure) {
    for (const auto& p : procedure.phases) {
        Step s;
        s.phase = &p;
        if (p.until) s.until = observers.add(p.until);
        s.limit = std::max(1L, scans_up(p.limit, model.scan));
        // e * P > lo, and (e - 1) * P >= hi, where e counts scans since `until` was first true, that one as 1.
        s.may = scans_down(p.reaction.lo, model.scan) + 1;
        s.must = scans_up(p.reaction.hi, model.scan) + 1;
        for (const auto& [which, value] : p.world) s.world.emplace_back(which, Interval{value, value});
        steps_.push_back(std::move(s));
    }
}

const Indexed<Switch, bool>& DriverRules::positions(long phase) const {
    return is_over(phase) ? procedure_->rest : step(phase).phase->positions;
}

namespace {

long seen_now(const DriverState& s, bool until) { return s.seen > 0 || until ? s.seen + 1 : 0; }

}  // namespace

Permission may_move_on(const DriverState& s, const DriverRules& r, bool until) {
    if (r.is_over(s.phase)) return {};
    const auto& step = r.step(s.phase);
    const long seen = seen_now(s, until);
    Permission p;
    p.must = s.scans + 1 >= step.limit || (seen >= 1 && seen >= step.must);
    p.may = p.must || (seen >= 1 && seen >= step.may);
    return p;
}

void go_on(DriverState& s, const DriverRules& r, bool until, bool moves_on) {
    if (r.is_over(s.phase)) {
        s.scans = 1;
    } else if (moves_on) {
        s = {s.phase + 1, 0, 0};
    } else {
        s.seen = seen_now(s, until);
        ++s.scans;
    }
}

}  // namespace lanyard::sim
