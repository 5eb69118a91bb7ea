// Which choices of a run brought about what is wrong at its end, as plain values; explain/causes.hpp finds them.
#pragma once

#include <optional>
#include <vector>

#include "claims/run.hpp"

namespace lanyard::claims {

// Something that is as it is by choice, from a scan on: a hand moves, a quantity rises, a relay is slow, a fault
// begins. At scan 0: how the run begins.
struct InputEvent {
    enum class Kind { position, missed, quantity, reading, contact, free_load, wiring, fault, mode };
    Kind kind = Kind::position;
    AnyId index;  // in the model's list of its kind
    long scan = 0;
    long until = 0;  // the scan at which its next event takes its place

    friend bool operator==(const InputEvent&, const InputEvent&) = default;
};

// Events that together made the difference: had they been otherwise, the run would have broken nothing.
struct RunCause {
    struct Part {
        InputEvent event;
        Value instead;  // what it would have been
        // A number: `instead` lies just past this, which itself does not do.
        std::optional<Rational> just_past = {};
    };
    std::vector<Part> parts;  // none of them does it alone
    // That run, a legal one, as long as the refuting one or longer. Of a trap: and on to the goal.
    Run otherwise;
    bool presupposed = false;  // the claim itself asks for it: without it the premise is not there
};

// Of a run into a trap; explain/trap_facts.hpp.
struct TrapFacts {
    long shut = -1;                // the first scan from which on it is known that nothing leads to the goal
    bool shut_then = false;        // a scan earlier something did
    std::vector<ExprPtr> never;    // parts of the model's logic that hold at no scan after the run
    std::vector<Mode> lost_modes;  // that the engine is in at no scan after the run
};

struct Causes {
    std::vector<RunCause> list;
    bool complete = true;  // false: the search was cut short, there may be more
    bool sampled = false;  // true: of quantities only some values were tried
    TrapFacts trap = {};   // where of_trap
    bool of_trap = false;  // otherwise the goal could be reached, instead of: nothing would be broken
};

// One more run that breaks the claim, for other reasons.
struct OtherRun {
    Run run;
    Causes causes;
};

// Why no more of them were found than there are.
enum class NoMore {
    enough,     // as many as were asked for, or nobody has looked
    none,       // every run that breaks the claim has all causes of one that is known
    cut_short,  // the search was not complete
};

}  // namespace lanyard::claims
