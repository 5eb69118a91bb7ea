// A chooser: fills in the choices of a scan that nobody has made, so that the scan is legal. What is wished is done
// where the world and the condition let it be done, otherwise the nearest that they let.
#pragma once

#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "claims/run.hpp"
#include "sim/dice.hpp"
#include "sim/interpreter.hpp"
#include "sim/landmarks.hpp"

namespace lanyard::sim {

// One entry for each item of the model, in the model's order. What is not wished follows the world's habits:
// quantities and switches stay where they are, readings are exact, relays and a booting controller take their longest
// time, the engine changes its mode only when it must, the driver waits as long as he may.
struct Wish {
    Wish() = default;
    explicit Wish(const Model& model);
    explicit Wish(const Model& model, const Choices& all);

    Indexed<Quantity, std::optional<Rational>> quantities;
    Indexed<Switch, std::optional<bool>> positions;
    Indexed<Switch, bool> missed;
    Indexed<Sensor, std::optional<Rational>> readings;
    Indexed<Relay, std::optional<bool>> contacts;
    Indexed<Load, std::optional<bool>> free_loads;
    Indexed<Probe, std::optional<bool>> wiring;  // not wished: as little is fed as may be
    Indexed<Fault, bool> faults;                 // begin where the condition lets them
    std::optional<bool> booted;
    std::optional<Mode> engine;  // where it shall get to, by the shortest way
    std::optional<bool> claim_moves_on;
    // If given: readings, relays, boot and the driver's reaction are at random where not wished.
    Dice* dice = nullptr;
};

struct Proposal {
    std::optional<Choices> choices;  // legal: the interpreter has been asked
    std::string why_not;             // otherwise: the rule that could not be met
    // What they lead to.
    Scan scan;
    std::unique_ptr<Interpreter> after;
};

class World {
 public:
    World(const Model& model, ConditionId condition, ClaimId claim);

    // For the scan that `now` is about to play; condition and claim are the ones given above. `fits`: what else is
    // asked of the choices.
    Proposal propose(const Interpreter& now, const Wish& wish,
                     const std::function<bool(const Choices&)>& fits = {}) const;
    // The first thing that propose() tries, and nothing else.
    Proposal attempt(const Interpreter& now, const Wish& wish) const;

    // Where quantities turn something, see landmarks.hpp.
    const Indexed<Quantity, std::vector<Rational>>& points() const { return points_; }

 private:
    Wish varied(const Wish& wish, std::size_t attempt, Dice& dice) const;

    // What a condition's conjuncts plainly say.
    struct Held {
        Indexed<Switch, std::optional<bool>> positions;
        std::vector<HalfLine> lines;
    };
    Held held_by(const Condition& condition) const;

    const Model& model_;
    Indexed<Quantity, std::vector<Rational>> points_;
    std::map<const Condition*, Held> held_;
};

// A legal run of at most `scans` scans (fewer only where the condition leaves no way on): quiet times about as long
// as the model's clocks, between them switches flipped, quantities moved to where something turns, engine and relays
// early, late or at random. A procedure's driver is followed. The same seed gives the same run.
// What follows `before`, where that is given; it is not part of the answer.
Run random_run(const Model& model, ConditionId condition, ClaimId claim, unsigned seed, long scans,
               const Run& before = {});

// Appends a scan to a run; equal scans share a segment.
void append(Run& run, const Choices& choices);

}  // namespace lanyard::sim
