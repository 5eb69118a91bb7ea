// Random runs that visit much of what a model can do: chance decides what changes, the model's own clocks and
// thresholds decide when and to what.
#include <algorithm>
#include <memory>

#include "sim/world.hpp"

namespace lanyard::sim {

namespace {

class Traveller {
 public:
    Traveller(const Model& model, ConditionId condition, ClaimId claim, unsigned seed, const Run& before)
        : m_(model),
          world_(model, condition, claim),
          times_(clock_times(model)),
          dice_(seed),
          now_(std::make_unique<Interpreter>(model, condition, claim)),
          wish_(model) {
        faults_ = model.conditions[condition].faults;
        play(*now_, before);
    }

    Run travel(long scans) {
        while (count_ < scans) {
            if (quiet_-- <= 0) change_something();
            if (!go_on() && !go_on_otherwise() && !turn_back()) break;
        }
        Run run;
        for (const auto& c : choices_) append(run, c);
        return run;
    }

 private:
    bool go_on() {
        Proposal p = world_.propose(*now_, wish_);
        if (!p.choices) return false;
        before_ = std::move(now_);
        now_ = std::move(p.after);
        choices_.push_back(*p.choices);
        ++count_;
        return true;
    }

    bool go_on_otherwise() {
        for (int k = 0; k < 10; ++k) {
            change_something();
            if (go_on()) return true;
        }
        return false;
    }

    // The last scan led where nothing follows: play it differently, a limited number of times.
    bool turn_back() {
        if (!before_ || ++turned_back_ > 100) return false;
        now_ = std::move(before_);
        choices_.pop_back();
        --count_;
        return go_on_otherwise();
    }

    void change_something() {
        quiet_ = pause();
        for (auto n = 1 + dice_.below(3); n > 0; --n) {
            switch (dice_.below(6)) {
                case 0:
                case 1:
                    flip_switch();
                    break;
                case 2:
                case 3:
                    move_quantity();
                    break;
                case 4:
                    wish_.engine = all_modes[dice_.below(mode_count)];
                    if (dice_.one_in(3)) wish_.engine = Mode::running;
                    break;
                default:
                    change_manner();
                    break;
            }
        }
    }

    // Mostly about as long as one of the model's clocks, so that things happen just before and just after it runs out.
    long pause() {
        const auto kind = dice_.below(4);
        if (kind == 0) return 0;
        if (kind == 1) return static_cast<long>(dice_.below(20));
        return std::max(0L, dice_.pick(times_) + static_cast<long>(dice_.below(5)) - 2);
    }

    void flip_switch() {
        if (m_.switches.empty()) return;
        const SwitchId k(dice_.below(m_.switches.size()));
        const Switch& s = m_.switches[k];
        const bool on = wish_.positions[k].value_or(s.rests_on);
        // A momentary switch is mostly at rest.
        if (s.momentary && on == s.rests_on && dice_.one_in(2)) return;
        wish_.positions[k] = !on;
    }

    void move_quantity() {
        if (m_.quantities.empty()) return;
        const QuantityId q(dice_.below(m_.quantities.size()));
        const Interval& range = m_.quantities[q].range;
        const bool anywhere = dice_.one_in(4) || world_.points()[q].empty();
        wish_.quantities[q] = anywhere ? dice_.between(range.lo, range.hi) : dice_.pick(world_.points()[q]);
    }

    void change_manner() {
        if (!faults_.empty() && dice_.one_in(3)) {
            const FaultId f = dice_.pick(faults_);
            wish_.faults[f] = !wish_.faults[f];
        }
        for (auto& w : wish_.wiring) w = dice_.one_in(2) ? std::nullopt : std::optional<bool>(dice_.one_in(2));
        wish_.dice = dice_.one_in(2) ? &dice_ : nullptr;
        for (auto& c : wish_.free_loads) c = !dice_.one_in(4);
        // A contact wished both ways is moved at once or never, as its coil has it.
        for (auto& c : wish_.contacts) c = dice_.one_in(2) ? std::nullopt : std::optional<bool>(dice_.one_in(2));
        wish_.claim_moves_on = dice_.one_in(2) ? std::nullopt : std::optional<bool>(dice_.one_in(2));
        wish_.booted = dice_.one_in(2) ? std::nullopt : std::optional<bool>(dice_.one_in(2));
    }

    const Model& m_;
    World world_;
    std::vector<long> times_;
    Dice dice_;
    std::unique_ptr<Interpreter> now_;
    std::unique_ptr<Interpreter> before_;
    Wish wish_;
    std::vector<FaultId> faults_;  // that may begin
    std::vector<Choices> choices_;
    long count_ = 0;
    long quiet_ = 0;
    int turned_back_ = 0;
};

}  // namespace

Run random_run(const Model& model, ConditionId condition, ClaimId claim, unsigned seed, long scans, const Run& before) {
    return Traveller(model, condition, claim, seed, before).travel(scans);
}

}  // namespace lanyard::sim
