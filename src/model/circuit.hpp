// The wiring after it is read: nodes, what lies between two of them, what feeds them, and the few questions that the
// rest of the model asks of it. What it means is said in circuit/flow.hpp and in `lanyard help wiring`.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/diagnostic.hpp"
#include "base/rational.hpp"
#include "lang/expr.hpp"

namespace lanyard::model {

struct Node;
struct Branch;
struct Source;
struct Probe;
struct WiredInput;
struct Fault;
struct Quantity;
struct Switch;
struct Relay;
struct Load;
using NodeId = Id<Node>;
using BranchId = Id<Branch>;
using SourceId = Id<Source>;
using ProbeId = Id<Probe>;
using WiredInputId = Id<WiredInput>;
using FaultId = Id<Fault>;
using QuantityId = Id<Quantity>;
inline constexpr NodeId ground_node{0};  // there in every circuit

struct Node {
    std::string name;  // "bus", "K1.30", "F1.in"
    SignalId signal;   // "has plus"; none: nothing mentions it
    Place place;
    std::string pointer;
};

enum class BranchKind {
    wire,      // conducts while it is whole
    fuse,      // the same, but a short through it may open it
    pole,      // of a hand switch, `index` in Model::switches
    contact,   // of a relay, `index` in Model::relays
    diode,     // plus passes from `from` to `to` only
    load,      // `index` in Model::loads
    coil,      // of a relay, `index` in Model::relays
    winding,   // field of an alternator, `index` in Circuit::sources
    output,    // power stage of an output, `index` in Model::outputs
    terminal,  // of a connector
    stray,     // a short that only a fault makes
};

// Something between two nodes.
struct Branch {
    BranchKind kind = BranchKind::wire;
    NodeId from, to;
    AnyId index;
    // Pole, contact: closed while the switch is on, the relay pulled in; else while it is not. Output: conducts while
    // it is on; else while it is off and the controller has power (the lower half of a half bridge).
    bool makes = true;
    bool lets_through = true;         // load, coil: current may reach others through it
    bool polar = false;               // load, coil: works only with plus at `from`
    std::vector<FaultId> opened_by;   // faults, in Model::faults: it never conducts
    std::vector<FaultId> closed_by;   // faults: it always conducts, a diode both ways
    std::vector<FaultId> bounced_by;  // faults: while closed it may be found open
    std::string name;                 // "W1", "master.2", "K1.make"
    std::optional<Rational> limit;    // A; fuse: its rating. Load, coil: what it draws. Output: what it can give.
    std::optional<Rational> gauge;    // wire: mm2
    bool in_engine_space = false;     // wire
    Place place;
    std::string pointer;
};

// Feeds plus to `plus` and ground to `minus` while it is live.
struct Source {
    std::string name;
    NodeId plus, minus;
    bool turns = false;               // an alternator
    ExprPtr live;                     // over the engine's mode, switches, quantities; null: always
    NodeId field_node;                // where its field is fed; none: it needs none
    BranchId winding;                 // of its field
    ProbeId field;                    // the winding is fed. It counts one scan later.
    std::vector<FaultId> excited_by;  // faults: the field stays on
    std::vector<FaultId> dead_by;     // faults: gives nothing
    Place place;
    std::string pointer;
};

// What the wiring is asked. The answer is one of two truths: what must be, and what may be; between them the world
// chooses, anew at each scan.
enum class ProbeKind {
    load,     // has power, `index` in branches
    coil,     // is energised, `index` in branches; with the contacts as found at the previous scan
    input,    // is on, `index` in Model::wired_inputs; with contacts and outputs of the previous scan
    supply,   // the controller is fed; with contacts and outputs of the previous scan
    field,    // of an alternator is fed, `index` in sources
    node,     // has plus, `index` in nodes
    magneto,  // sparks: its lead is not grounded; `index` in Model::loads
    flight,   // a change-over contact is found between its two positions, `index` in Model::relays
    passage,  // a change-over switch that is being moved is found between, `index` in Model::switches
    bounce,   // a bouncing contact is found open, `index` in branches
    chatter,  // the same for a switch that the controller sees directly, `index` in Model::switches
    reset,    // the controller loses its power by a fault of its own; without a circuit as well
};
struct Probe {
    ProbeKind kind = ProbeKind::load;
    AnyId index;
};

// An input of the controller that reads a node. The voltage is high while the node has plus (pulled down inside) or
// while it has no ground (pulled up inside).
struct WiredInput {
    SignalId signal;
    NodeId node;
    bool pulled_up = false;
    bool on_when_low = false;
    ProbeId probe;
    std::vector<FaultId> stuck_on_by, stuck_off_by;
    std::string terminal;
};

// A row of the model's own table of what wires may carry.
struct WireRating {
    Rational gauge;  // mm2
    Rational amps;
};

struct Circuit {
    Indexed<Node> nodes;  // [0] is the ground; empty: the model has no circuit
    Indexed<Branch> branches;
    Indexed<Node, std::vector<BranchId>> at;  // the branches there
    Indexed<Source> sources;
    Indexed<Probe> probes;
    QuantityId voltage;                  // of everything that is fed; none: always enough
    NodeId supply_plus;                  // of the controller; none: its supply is no matter of the wiring
    NodeId supply_minus;                 //
    ProbeId supply_probe;                //
    ProbeId reset_probe;                 //
    std::vector<WireRating> wire_table;  // from thin to thick; empty: the usual one (circuit/ampacity.hpp)
    Indexed<Load, NodeId> magneto_lead;  // the lead that stops it when grounded; none: no magneto
    bool exists() const { return !nodes.empty(); }
    void add(Branch b) {
        at.resize(nodes.size());
        for (const NodeId node : {b.from, b.to}) at[node].push_back(branches.next());
        branches.push_back(std::move(b));
    }
};

// What can break.
enum class FaultKind {
    sensor_stuck,       // reads one value for good, any that it has when it begins
    sensor_frozen,      // goes on reading what it read when it began
    sensor_open,        // its wire is broken: reads `reads`, or anything
    sensor_to_ground,   // its wire lies on ground: reads `reads`, or anything
    sensor_to_supply,   // its wire lies on its supply: reads `reads`, or anything
    sensor_drift,       // reads up to `by` beside its accuracy
    switch_stuck_off,   //
    switch_stuck_on,    //
    switch_bounces,     // while closed it may be found open
    wire_open,          //
    wire_to_ground,     //
    wire_to_battery,    //
    terminal_open,      //
    relay_never_pulls,  //
    relay_welded,       // once pulled in, stays so
    relay_slow,         // takes up to `takes`
    fuse_open,          //
    diode_open,         //
    diode_shorted,      //
    load_open,          //
    output_stuck_on,    //
    output_stuck_off,   //
    input_stuck_on,     //
    input_stuck_off,    //
    loop_open,          // the wire of a loop-back is broken: reads off
    controller_resets,  // may lose its power at any scan
    controller_dead,    //
    ground_lost,        //
    alternator_dead,    //
    field_stays_on,     //
    event,              // the user's own: nothing but its name in expressions
};

struct Fault {
    FaultKind kind = FaultKind::event;
    std::string name;  // "K1.welded"
    std::string part;  // "K1"
    AnyId index;       // sensor, switch, relay, output, wired input, loop, source: which; branches know by themselves
    SignalId signal;   // is there at this scan; none: nothing mentions it
    bool comes_and_goes = false;          // else it stays
    std::optional<Rational> value;        // SI: `reads`, `by`, `takes`
    std::optional<Rational> per_hour;     // rate, 1/h
    std::optional<Rational> test_every;   // h
    std::optional<Rational> probability;  // instead of a rate
    Place place;                          // of the part
    std::string pointer;
};

}  // namespace lanyard::model
