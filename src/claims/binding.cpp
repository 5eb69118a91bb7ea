// What it decides: of which quantities it is plain that they always find a value, whatever the rest of the model does.
// Why it is sound: a quantity without a rate picks its value at each scan anew. Without bands in its lines the band of
// the mode will do, which the reader has found within the range (and, for the engine's speed, fit for the mode); with
// such bands and nothing else, a value that lies in all of them. A quantity whose rates all let it stand still, and
// that has no band but its range, stands still. All others are named, with or without need.
// Tested by: tests/claims/cone_test.cpp, tests/encode/differential_test.cpp, tests/prove/beyond_test.cpp
#include "claims/binding.hpp"

#include <algorithm>

namespace lanyard::claims {

namespace {

class Binding {
 public:
    Binding(const Model& m, ConditionId condition, ClaimId claim) : m_(m) {
        obeyed_.push_back(&m.conditions[condition]);
        const ConditionId before = !claim ? ConditionId{} : m.claims[claim].reached_under;
        if (before) obeyed_.push_back(&m.conditions[before]);
    }

    bool binds(QuantityId index) const {
        const Quantity& q = m_.quantities[index];
        Interval common = q.range;
        bool has_line_band = false, moves = false, may_stand = true;
        for (const auto& line : q.lines) {
            if (line.healthy_only && !healthy()) continue;
            if (line.is_change) {
                moves = true;
                may_stand = may_stand && line.band.lo <= 0 && line.band.hi >= 0;
            } else {
                has_line_band = true;
                common.lo = std::max(common.lo, line.band.lo);
                common.hi = std::min(common.hi, line.band.hi);
            }
        }
        if (!moves && !has_line_band) return tied(index) && replaced(index);
        if (tied(index) || replaced(index) || banded(q)) return true;
        return moves ? !may_stand || has_line_band : common.lo > common.hi;
    }

 private:
    bool healthy() const {
        return std::any_of(obeyed_.begin(), obeyed_.end(), [](const Condition* c) { return c->healthy; });
    }
    bool tied(QuantityId index) const { return m_.engine && m_.engine->speed == index; }
    bool replaced(QuantityId index) const {
        return std::any_of(obeyed_.begin(), obeyed_.end(), [index](const Condition* c) {
            return std::any_of(c->replaced.begin(), c->replaced.end(),
                               [index](const auto& r) { return r.first == index; });
        });
    }
    bool banded(const Quantity& q) const {
        return healthy() &&
               std::any_of(q.healthy.begin(), q.healthy.end(), [](const auto& b) { return b.has_value(); });
    }

    const Model& m_;
    std::vector<const Condition*> obeyed_;
};

}  // namespace

std::vector<QuantityId> binding_quantities(const Model& model, ConditionId condition, ClaimId claim) {
    const Binding binding(model, condition, claim);
    std::vector<QuantityId> out;
    for (const QuantityId q : model.quantities.ids())
        if (binding.binds(q)) out.push_back(q);
    return out;
}

}  // namespace lanyard::claims
