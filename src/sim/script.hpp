// What somebody does with the inputs, as a file: changes with their times, as JSON or as CSV. Playing it fills in what
// it leaves open (world.hpp) and tells where the world did not let it have its way.
//
// JSON: {"until": "5 s", "changes": [{"at": "0.5 s", "set": {"key": true, "oil_pressure": "12 psi"}}, ...]}
// CSV:  time,key,oil_pressure [psi]   one line for each change, empty cells change nothing; the last time ends the run
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/diagnostic.hpp"
#include "claims/run.hpp"
#include "sim/interpreter.hpp"

namespace lanyard::sim {

struct ScriptSetting {
    SignalId signal;  // position, quantity, reading, free load, fault, or the engine's mode: where it shall get to
    Value value;
    Place place;
    std::string pointer;
};

struct ScriptChange {
    long scan = 0;  // the first at or after its time
    std::vector<ScriptSetting> settings;
};

struct Script {
    long scans = 0;
    std::vector<ScriptChange> changes;  // in the order of their times
};

struct ScriptResult {
    std::optional<Script> script;  // none if there are errors
    Diagnostics diagnostics;
    SourceText source;
    // The model as it is played: the faults that the script names may begin under `any`.
    std::shared_ptr<const Model> model;
};

// A text that begins with { is JSON, everything else CSV.
ScriptResult read_script(const Model& model, const std::string& shown_name, const std::string& text);

struct ScriptRun {
    Run run;
    std::vector<Scan> scans;
    std::vector<SignalId> changed;  // signals with more than one value
    // Warnings: what was set and could not be; why the run ends early.
    Diagnostics diagnostics;
};
ScriptRun play_script(const Model& model, const Script& script, ConditionId condition, ClaimId claim = {});

// The longest run that a script may ask for.
inline constexpr long longest_script = 200'000;

}  // namespace lanyard::sim
