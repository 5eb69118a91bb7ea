// Settings of the bench, played until everything has come to rest: the interpreter says what follows. People are slow,
// so a step of the card begins where nothing changes by itself any more.
#pragma once

#include <memory>
#include <utility>
#include <vector>

#include "base/stop_flag.hpp"
#include "card/points.hpp"
#include "sim/interpreter.hpp"
#include "sim/world.hpp"

namespace lanyard::card {

// Where everything is set.
struct Settings {
    Indexed<Switch, bool> positions;
    Indexed<Quantity, Rational> quantities;
    friend bool operator==(const Settings&, const Settings&) = default;
};

struct Change {
    long scan = 0;  // counted from the setting
    SignalId signal;
    Value to;
};

// How a setting ended.
struct Rest {
    Settings set;
    std::shared_ptr<const Interpreter> now;
    Indexed<Signal, Value> signals;
    std::vector<Change> changes;  // of watched signals, on the way
    long scans = 0;               // after which nothing changed any more
    // Without power: the signals at the last rest with power.
    std::shared_ptr<const Indexed<Signal, Value>> lost_with;
    bool legal = true;
    bool rests = true;  // false: it goes on changing
    bool is_on(SignalId id) const { return std::get<bool>(signals[id]); }
};

class Player {
 public:
    // `watched`: signals whose changes are told. Once `stop` is raised nothing comes to rest any more, but a first scan
    // is played still: what is legal has signals.
    Player(const Model& model, std::vector<SignalId> watched, const StopFlag& stop);

    Rest power_up(const Settings& set) const;
    Rest play(const Rest& from, const Settings& set) const;
    // The same with one more switch turned on for those scans, counted from the setting.
    Rest play_turned(const Rest& from, const Settings& set, SwitchId turned, long at, long until = for_ever) const;
    static constexpr long for_ever = -1;
    bool is_stopped() const { return stop_.raised(); }
    const Model& model() const { return model_; }
    // All that it has played so far.
    long scans_played() const { return scans_played_; }

 private:
    struct Turn {
        SwitchId position;
        long at = 0, until = for_ever;
    };
    Rest go(std::shared_ptr<const Interpreter> now, const Rest* before, const Settings& set,
            const Turn* turn = nullptr) const;
    void remember_power(const Rest* before, Rest& out) const;

    const Model& model_;
    World world_;
    std::vector<SignalId> watched_;
    const StopFlag& stop_;
    long longest_;
    mutable long scans_played_ = 0;
};

// Everything where the card begins and ends.
Settings at_rest(const Model& model, const Indexed<BenchInput>& inputs);

// The model with all clocks that a controller runs made short, in the same order: for looking ahead only.
Model hurried(const Model& model);

}  // namespace lanyard::card
