// The reference meaning of a model: plain, exact, scan by scan, naive on purpose. No solver. Where the encoding and
// this differ, the encoding is wrong.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "claims/run.hpp"
#include "model/model.hpp"

namespace lanyard::sim {

// What one scan shows.
struct Scan {
    Indexed<Signal, Value> signals;  // after Drive
    // A rule of the world or of the condition that the choices broke, in words; the scan's values are then not to
    // be trusted. Empty in a legal run.
    std::string broken_rule;
    // The claim's monitor (where there is a claim)
    bool violated = false;  // always, response, procedure: the claim is broken at this scan
    bool demanded = false;  // it demanded something at this scan (vacuity)
    bool goal = false;      // possible: the goal holds; procedure: has held since the last step began
};

class Machine;

class Interpreter {
 public:
    // `condition` is obeyed at every scan. The observers and the monitor of `claim`, which may be none, run along.
    Interpreter(const Model& model, ConditionId condition, ClaimId claim);
    ~Interpreter();
    Interpreter(const Interpreter& other);
    Interpreter& operator=(const Interpreter&) = delete;

    // Plays the next scan.
    Scan step(const Choices& choices);

    // The state in a canonical text, for comparing and for exhaustive search: equal texts behave alike.
    std::string state_text() const;

    // The rule that `choices` would break at the next scan; empty: none.
    std::string check(const Choices& choices) const;

    // What is inside, for those who look for legal choices (world.hpp).
    const Machine& machine() const;

 private:
    struct Impl;
    std::unique_ptr<Impl> impl_;
};

// Plays a run on from where `now` is, until a rule is broken or `see` wants no more; the last scan that was played.
// `see` gets the choices of each scan and what it shows.
template <class F>
Scan play(Interpreter& now, const Run& run, const F& see) {
    Scan last;
    each_scan(run, [&](const Choices& c) {
        last = now.step(c);
        return see(c, last) && last.broken_rule.empty();
    });
    return last;
}
inline Scan play(Interpreter& now, const Run& run) {
    return play(now, run, [](const Choices&, const Scan&) { return true; });
}

struct Replay {
    bool legal = false;  // every scan obeys the world and the condition
    std::string broken;  // the first rule that was broken, with its scan
    long broken_at = -1;
    bool violated_at_end = false;
    bool demanded = false;  // at some scan
    bool goal_at_end = false;
    std::vector<Scan> scans;  // all of them
};
Replay replay(const Model& model, const Run& run, ConditionId condition, ClaimId claim);

// What a run that was told for a claim is a run of: the claim with its condition, its condition alone (a run into a
// dead end follows no driver), or any condition (the example of a recoverable claim follows its playbook).
struct MadeUnder {
    ConditionId condition = any_condition;
    ClaimId claim;
    Replay played;
};
MadeUnder made_under(const Model& model, const Run& run, ClaimId claim);

}  // namespace lanyard::sim
