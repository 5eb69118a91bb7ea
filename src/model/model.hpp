// A model after it is read: names are numbers, units are gone, defaults are filled in, and everything remembers where
// it stands in the file. What it means is said in `lanyard help meaning`; the interpreter (sim) and the encoding
// (encode) both work from this and from nothing else.
#pragma once

#include <array>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "base/diagnostic.hpp"
#include "lang/compile.hpp"
#include "lang/expr.hpp"
#include "model/circuit.hpp"

namespace lanyard::model {

struct Sensor;
struct Loop;
struct Logic;
struct Output;
struct Condition;
struct Claim;
using SwitchId = Id<Switch>;
using SensorId = Id<Sensor>;
using LoopId = Id<Loop>;
using LogicId = Id<Logic>;
using OutputId = Id<Output>;
using RelayId = Id<Relay>;
using LoadId = Id<Load>;
using ConditionId = Id<Condition>;
using ClaimId = Id<Claim>;
inline constexpr ConditionId any_condition{0}, healthy_condition{1};  // there in every model

enum class SignalKind {
    quantity,  // physical quantity, `index` in Model::quantities
    position,  // true position of a hand switch, `index` in Model::switches
    seen,      // what the controller sees of that switch
    reading,   // what a sensor tells the controller, `index` in Model::sensors
    loop,      // a loop-back, `index` in Model::loops
    logic,     // `index` in Model::logic
    output,    // `index` in Model::outputs; a number (duty) or a Boolean
    contact,   // contact of a relay, `index` in Model::relays
    load,      // has power, `index` in Model::loads
    wired,     // what the controller sees of a node, `index` in Model::wired_inputs
    node,      // of the wiring: has plus, `index` in Circuit::nodes
    fault,     // is there, `index` in Model::faults
    mode,      // the engine's mode
    powered,   // the controller has power
};

struct Signal {
    std::string name;
    SignalKind kind = SignalKind::logic;
    Type type;
    std::optional<Unit> unit;  // numbers: in which it is shown
    AnyId index;
    Place place;
    std::string pointer;
};

// Values of a quantity in one engine mode, under `healthy`. Before `after` seconds have passed - counted from firing
// in running and coasting, from the last scan in running or coasting in stopped and cranking - `before` holds.
struct ModeBand {
    Interval within;
    std::optional<Rational> after;
    Interval before;
    bool is_default = false;  // common practice, not written in the file
    Place place;
};

// "when EXPR: within [a, b]" or "when EXPR: changes by [a, b] per second".
struct GuardedLine {
    ExprPtr when;
    bool is_change = false;
    Interval band;
    bool healthy_only = false;
    Place place;
    std::string pointer;
};

struct Quantity {
    SignalId signal;
    Interval range;  // closed; under every condition
    bool range_is_default = false;
    std::array<std::optional<ModeBand>, mode_count> healthy;  // without an engine: the same in all four
    std::vector<GuardedLine> lines;
    bool moves() const {
        for (const auto& l : lines)
            if (l.is_change) return true;
        return false;
    }
};

struct Switch {
    SignalId position;
    SignalId seen;
    bool momentary = false;
    bool rests_on = false;           // where it is when no step of a procedure names it
    bool normally_closed = false;    // the controller sees NOT position
    bool may_be_missed = false;      // in the scan after a change the old position may still be seen
    bool seen_by_controller = true;  // else it is a part of the wiring only
    ProbeId passage_probe;           // wiring: found between both positions; -1: it has no change-over contact
    std::vector<FaultId> stuck_on_by, stuck_off_by, bounced_by;  // faults of the contact that the controller sees
    std::string terminal;
};

struct Sensor {
    SignalId signal;
    QuantityId quantity;
    Rational accuracy;  // >= 0
    Rational delay;     // s, >= 0
    std::string terminal;
    std::vector<FaultId> faults;  // of kinds sensor_...
};

struct Loop {
    SignalId signal;
    SignalId output;  // Boolean output that it reads back, one scan later
    std::string terminal;
    std::vector<FaultId> opened_by;  // faults
};

struct Logic {
    SignalId signal;
    ExprPtr is;
    bool retained = false;  // its memory elements keep their state without power
};

struct Output {
    SignalId signal;
    ExprPtr on;  // Boolean, or a number (duty)
    bool is_duty = false;
    std::string terminal;
    std::vector<FaultId> stuck_on_by, stuck_off_by;  // faults of what it drives; the signal is the command
};

struct Relay {
    SignalId contact;
    SignalId coil;             // output that drives it (duty: on above 0); none: the coil is part of the wiring
    Interval pulls_in{0, 0};   // s
    Interval drops_out{0, 0};  // s
    ProbeId coil_probe;        // wiring: the coil is energised
    ProbeId flight_probe;      // wiring: found between both positions; -1: it has no change-over contact
    std::optional<Rational> operates_at;                      // V: pulls in for sure at and above this
    std::optional<Rational> releases_at;                      // V: drops out for sure at and below this
    bool suppressed = false;                                  // wiring: there is a diode or resistor across the coil
    std::vector<FaultId> never_pulls_by, welded_by, slow_by;  // faults
};

struct Load {
    SignalId signal;
    std::vector<SignalId> feeders;  // outputs or contacts; it has power when one of them has; empty = free
    ProbeId probe;                  // part of the wiring, which then decides
    bool is_free() const { return feeders.empty() && !probe; }
};

struct Table {
    std::string name;
    std::vector<Rational> rows;                // axis of args[0], rising
    std::vector<Rational> columns;             // axis of args[1], rising; empty for one-way tables
    std::vector<std::vector<Rational>> cells;  // [row][column]; one-way: [row][0]
    TableShape shape;
    Place place;
};

struct Supply {
    ExprPtr on;                               // over the world and `last` outputs; null = powered throughout
    Interval boots_in{0, 0};                  // s
    std::vector<FaultId> resets_by, dead_by;  // faults of the controller
    Place place;
};

struct Engine {
    std::vector<LoadId> fires_with;  // may be empty (then it fires when cranked)
    LoadId cranks_with;              // none: may be cranked at any time
    QuantityId speed;                // tied to the mode
    Interval firing_time{0, 0};      // s
    Interval coast_down{0, 0};       // s
    Rational catches_above;          // rpm in SI; ignored without a speed
    Interval run_on{0, 0};           // s of running after a load is lost
    bool push_start = false;
    std::vector<std::string> defaults;  // keys that were not in the file: common practice
    Place place;
};

// Who owns a memory element decides what the controller's power does to it.
struct Element {
    Op op = Op::ton;
    bool observer = false;  // belongs to a claim or condition: evaluated at every scan after Drive, never reset
    bool retained = false;
};

struct Condition {
    std::string name;                                       // "any", "healthy" or the user's own
    bool healthy = false;                                   // base
    std::vector<ExprPtr> holds;                             // at every scan, after Drive
    std::vector<std::pair<QuantityId, Interval>> replaced;  // its healthy bands are this interval instead
    std::vector<FaultId> faults;                            // that may begin at any scan; rising
    int at_most = 0;                                        // so many of them in one run
    bool from_the_start = false;                            // they are there at scan 0 or never
    std::vector<FaultId> present;                           // faults that are there from the first scan on; rising
    std::vector<std::vector<FaultId>> excluded;             // sets of them that are never there together
    std::string text;                                       // as printed in verdict lines
    std::vector<std::string> fault_list;                    // what `faults` was written as: "W1", "any relay.welded"
    Place place;
};

struct Always {
    ExprPtr body;
};
// What becomes of the response when its premise goes away.
enum class Manner {
    while_it_lasts,  // nothing is owed any more
    once_begun,      // it is owed all the same
    in_total,  // the premise need not hold without a break: `for_time` in all within any `out_of`; then as once begun
};
struct Response {
    ExprPtr whenever;
    Rational for_time;  // s
    ExprPtr then;
    Rational within;  // s
    Manner manner = Manner::while_it_lasts;
    Rational out_of = 0;  // s; in_total only
};
// The value changes at most so many times within any time of this length.
struct ChangeLimit {
    ExprPtr body;
    long at_most = 0;
    Rational in_any;  // s
};
// From every state that is reachable under the claim's `reached_under`, some run under its condition gets there.
struct Recoverable {
    ExprPtr body;
    std::optional<Rational> within;  // s
    Indexed<Switch, bool> may_move;  // the others stay where they were
};
struct Possible {
    ExprPtr body;
};
// One step of a procedure. During a phase every switch has a fixed position. It lasts until `until` has been seen
// and the driver has reacted, or until `limit` has passed.
struct Phase {
    Indexed<Switch, bool> positions;
    ExprPtr until;                                       // null: lasts `limit`
    Rational limit;                                      // s, > 0
    Interval reaction{0, 0};                             // s after `until` came true
    std::vector<std::pair<QuantityId, Rational>> world;  // what the world does meanwhile; playbooks only
    bool nobody_cranks = false;                          // the engine is cranked by its starter only; playbooks only
    std::string text;
    Place place;
};
struct Procedure {
    std::vector<Phase> phases;
    Indexed<Switch, bool> rest;  // positions after the last phase
    ExprPtr goal;
    std::optional<Rational> within;  // s from the first step; default: the end of the last phase
    // Null: the steps begin with the run. Else they may begin behind any scan at which this is true; until then the
    // switches are anywhere and the claim's `reached_under` is obeyed.
    ExprPtr from;
    // The rest only in procedures that lanyard makes itself (playbooks of recoverable claims).
    bool any_time = false;            // the goal counts from the first step on
    Indexed<Switch, bool> untouched;  // stays where it was; empty: none
};

// Of what has happened where a claim does not hold: plain words, or an expression that was true and the key it is of.
struct FailurePiece {
    std::string text;
    ExprPtr happened;  // null: plain words
};

struct Claim {
    std::string id;
    ConditionId condition = any_condition;
    // Recoverable, procedures with `from`: the condition up to where the second part begins, `condition` is obeyed
    // from there on. None: there is one part only.
    ConditionId reached_under;
    std::variant<Always, Response, Possible, Procedure, Recoverable, ChangeLimit> body;
    std::string pattern;  // the word that it is written with (patterns.hpp); empty for a kind written plainly
    std::string written;  // the object of the file, on one line
    std::vector<FailurePiece> failure;  // of a word that says what has happened where it does not hold
    std::string note;
    std::string rule;  // "small-boats/fuel-pump-off": made of a rule of a pack; empty: of the model's own
    Place place;
    std::string pointer;
};

struct Pack;  // packs.hpp

// A role that nothing in the model plays, with what might.
struct MissingRole {
    std::string name;
    std::vector<std::string> candidates;
};

// What became of a rule of a chosen pack.
enum class RuleState { judged, roles_missing, engine_missing, wiring_missing };
struct RuleUse {
    std::string rule;
    RuleState state = RuleState::judged;
    std::vector<MissingRole> missing;
    std::vector<std::string> changed;  // "max_delay = 0.2 s (the pack says 0.1 s)": values that the model chose
};

// The expressions that a claim is made of.
std::vector<ExprPtr> expressions_of(const Claim& claim);

struct Model {
    std::string name;
    SourceText source;
    std::string sha256;  // of the file
    std::string
        made_into;  // how it differs from what the file says, so that it is not taken for it; empty: it does not
    Rational scan;  // s

    Indexed<Signal> signals;
    Indexed<Quantity> quantities;
    Indexed<Switch> switches;
    Indexed<Sensor> sensors;
    Indexed<Loop> loops;
    Indexed<Logic> logic;
    Indexed<Output> outputs;
    Indexed<Relay> relays;
    Indexed<Load> loads;
    Indexed<WiredInput> wired_inputs;
    Circuit circuit;
    Indexed<Fault> faults;  // everything that can break; under a condition only what it names does
    Indexed<Table> tables;
    Indexed<Element> elements;
    Supply supply;
    std::optional<Engine> engine;
    Indexed<Condition> conditions;                   // [0] any, [1] healthy
    Indexed<Claim> claims;                           // the model's own, then those of rules
    std::vector<std::shared_ptr<const Pack>> packs;  // that were chosen
    std::vector<RuleUse> rules;                      // all of theirs

    SignalId mode;     // none without an engine
    SignalId powered;  // always there

    // Logic and outputs in an order in which each reads only what stands before it.
    std::vector<SignalId> order;

    const Signal& signal(SignalId id) const { return signals[id]; }
    const std::string& name_of(SignalId id) const { return signal(id).name; }
    // The controller may be without power.
    bool may_lose_power() const { return supply.on || circuit.supply_probe || circuit.reset_probe; }
};

// The expression that a logic or output signal stands for.
const ExprPtr& definition(const Model& m, SignalId id);

}  // namespace lanyard::model
