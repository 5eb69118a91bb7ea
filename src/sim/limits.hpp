// Where a quantity may be at a scan: its range, its tie to the engine's mode, the healthy band of the mode or what a
// condition puts in its place, and the guarded lines.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "model/model.hpp"
#include "sim/engine.hpp"
#include "sim/program.hpp"

namespace lanyard::sim {

enum class LimitRule { range, tie, healthy, replaced, line, change, playbook };

struct Limit {
    LimitRule rule = LimitRule::range;
    const Interval* band = nullptr;
    const Rational* from = nullptr;  // the band counts from this value (changes); null = from 0
    bool above_zero = false;         // the tie of a turning engine: no band, just > 0
    const Interval* ends = nullptr;  // changes: the range, at whose ends a quantity stays that should go beyond

    bool allows(const Rational& x) const;
};

// What holds of one quantity under one condition, times in scans. Lasts as long as the model.
class QuantityRules {
 public:
    QuantityRules(const Model& model, const Condition& condition, QuantityId quantity, Program& guards);

    struct Line {
        const GuardedLine* line = nullptr;
        OperationId guard;  // in the guards' program; none: always
        Interval step;      // a change: per scan
    };
    const std::vector<Line>& lines() const { return lines_; }
    bool needs_last() const;
    // The longest time after which a band of running and coasting, of stopped and cranking changes.
    long firing_cap() const;
    long turned_cap() const;

    // Calls f with every limit that acts. `guard` tells the truth of an operation, `last` is the value at the scan
    // before (null at scan 0: changes do not act).
    template <class Guard, class F>
    void each(const EngineState& engine, const Rational* last, Guard&& guard, F&& f) const {
        f(Limit{LimitRule::range, range_, nullptr, false});
        if (tied_) f(tie(engine.mode));
        if (const Limit l = band(engine); l.band) f(l);
        for (const auto& l : lines_) {
            if (l.guard && !guard(l.guard)) continue;
            if (!l.line->is_change) f(Limit{LimitRule::line, &l.line->band, nullptr, false});
            if (l.line->is_change && last) f(Limit{LimitRule::change, &l.step, last, false, range_});
        }
    }

 private:
    struct Band {
        const ModeBand* band = nullptr;
        long after = 0;
    };
    Limit tie(Mode mode) const;
    Limit band(const EngineState& engine) const;
    long cap(bool turning) const;

    const Interval* range_;
    bool tied_ = false;
    const Interval* replaced_ = nullptr;
    std::array<Band, mode_count> bands_{};
    std::vector<Line> lines_;
};

// "oil_pressure is 80 psi, outside 25 .. 75 psi (healthy while running)"
std::string broken_text(const Model& model, QuantityId quantity, const Rational& value, const Limit& limit, Mode mode);

}  // namespace lanyard::sim
