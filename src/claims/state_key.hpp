// What a piece of a system's state, or an input of it, is: the role that it plays, and what it plays it for. By this it
// is found; its name in a solver's texts is made of it in one place (encode/state_names.hpp) and taken apart nowhere.
#pragma once

#include <compare>
#include <cstddef>
#include <map>
#include <variant>

#include "model/model.hpp"

namespace lanyard::claims {

enum class StateRole {
    // an element's memory; its state before the scan
    remembered,  // the one bit, or the one number, that it remembers
    on,
    count,
    past,  // number: so many scans ago
    filled,
    // a signal's, a fault's or a probe's
    value,  // what the world chooses
    end,    // the same at the last scan of a leap
    before,
    ever,
    last,
    held,
    away,  // number: the cell of values
    missed,
    closed,
    transit,
    moves,
    fed,
    was,  // where a switch stays in the claim's second part
    // the run's
    powered_before,
    product,  // number: in the order in which they are met
    // the supply's
    up,
    booting,
    booted,
    // the engine's
    high,
    low,
    next_high,
    next_low,
    firing,
    lost,
    coast,
    since_firing,
    since_running,
    // the claim's; the first is the run's as well
    begun,
    moves_on,
    owed,
    age,
    watched,
    window,
    total,
    changes,
    step,
    in_step,
    reacts,  // number: the step, from 1
    heard,
    seen,
    time
};

// What a model has one of.
enum class Whole { run, supply, engine, claim };

struct StateKey {
    StateRole role = StateRole::value;
    std::variant<Whole, ElementId, SignalId, FaultId, ProbeId> owner = Whole::run;
    std::size_t number = 0;  // tells apart what plays the same role for the same owner

    friend auto operator<=>(const StateKey&, const StateKey&) = default;
};

// What holds of single pieces of state wherever a certificate's lemmas hold.
struct Facts {
    std::map<StateKey, bool> fixed;
    std::map<StateKey, long> at_least;  // counts and clocks
};

}  // namespace lanyard::claims
