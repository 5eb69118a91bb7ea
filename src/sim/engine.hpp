// The engine: four modes, the loads that it fires with, its starter, and clocks with intervals instead of one
// trajectory. Deadlines act at the first scan at or after them; no clock is ever bounded, so time cannot stop.
#pragma once

#include <array>
#include <string>

#include "model/model.hpp"

namespace lanyard::sim {

// What of the engine section and the condition matters, times in scans.
struct EngineRules {
    // `counts`: the clocks of a healthy engine run although this condition does not ask for them; another one that the
    // run will obey later does.
    EngineRules(const Model& model, bool healthy, bool counts);

    const Engine* engine;
    Rational scan;
    bool healthy;
    bool counts;
    long fire_may = 0;     // cranking with all loads for so many scans, this one included: may fire
    long fire_must = 0;    // healthy: fires
    long coast_may = 0;    // healthy: coasting for so many scans: may stand still
    long coast_must = 0;   // healthy: coasts no longer
    long run_on_may = 0;   // a load lost for so many scans: may coast
    long run_on_must = 0;  // coasts
    // Clocks of the healthy bands stop counting where no band changes any more.
    long firing_cap = 0;
    long turned_cap = 0;
};

struct EngineState {
    Mode mode = Mode::stopped;
    long fuelled = 0;       // consecutive scans in cranking with all loads powered
    long lost = 0;          // consecutive scans in running with a load lost
    long coasting = 0;      // scans in coasting since it was entered
    long since_firing = 0;  // this scan - the first scan in running, while running or coasting
    long since_turned = 0;  // this scan - the last scan in running or coasting, in the other modes
};

// What the engine feels at the end of a scan.
struct EngineFeels {
    bool loads = true;     // all loads that it fires with have power
    bool starter = false;  // the load that it cranks with has power
    bool fast = true;      // above the catch speed
};

using Modes = std::array<bool, mode_count>;

inline bool turns_by_itself(Mode m) { return m == Mode::running || m == Mode::coasting; }

EngineState stopped_for_long(const EngineRules& r);
// The clocks take this scan in.
void count_scan(EngineState& s, const EngineRules& r, const EngineFeels& f);
// Where it may go after this scan, clocks counted.
Modes next_modes(const EngineState& s, const EngineRules& r, const EngineFeels& f);
// Goes there: the state at the beginning of the next scan.
void go_to(EngineState& s, const EngineRules& r, Mode next);

// Why `next` is not among the modes that may follow.
std::string why_not(const EngineState& s, const EngineRules& r, const EngineFeels& f, Mode next);

}  // namespace lanyard::sim
