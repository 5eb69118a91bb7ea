// The workshop of the reader: a model in the making with everything that is known about its names. Each build_*.cpp
// adds one section of the file; read.cpp calls them in the order in which they need each other.
#pragma once

#include <optional>
#include <string>
#include <unordered_map>
#include <unordered_set>
#include <vector>

#include "model/defaults.hpp"
#include "model/model.hpp"
#include "model/packs.hpp"
#include "model/reader.hpp"
#include "model/written_units.hpp"

namespace lanyard::model {

enum class Thing {
    quantity,
    sensor,
    hand_switch,
    loop,
    wired_input,
    logic,
    output,
    relay,
    load,
    table,
    condition,
    node,   // of the wiring; its signal comes into being when it is first asked for
    part,   // of the wiring, without a value of its own
    fault,  // as a node
};
const char* thing_words(Thing t);  // "a quantity"
std::string in_line(Place place);  // " (line 12)"; empty where there is no place

struct Named {
    Thing thing = Thing::quantity;
    AnyId index = {};           // in the list of its kind
    SignalId signal = {};       // what claims mean by the name
    bool broken = false;        // it exists, but what it is could not be found out: no follow-ups
    bool typed = true;          // its type is known (logic: once it is compiled)
    Place place = {};           // said by declare()
    std::string guess_of = {};  // its type follows from a guess about this name, which is checked later
};

// Logic and outputs until they are compiled.
struct Definition {
    std::string name;
    SignalId signal;
    std::optional<LocatedText> text;
    std::optional<Type> wanted;
    std::optional<Unit> unit;
    bool retained = false;
    Place place;
    std::string pointer;
    bool was_guessed = false;  // somebody asked for its type before it was known
    ExprPtr made;
};

// What a wire of the wiring became.
struct WireLine {
    std::string name;
    std::vector<BranchId> pieces;
    Place place;
    std::string pointer;
};

// An output that drives a pin of its own; it waits until the wiring is read.
struct PendingDrive {
    OutputId output;
    std::string how;  // "high side"
    std::optional<LocatedText> how_text;
    std::optional<LocatedText> gives;
};

// Guarded lines wait until every name is known.
struct PendingLine {
    QuantityId quantity;
    const json::Value* object = nullptr;
    std::string pointer;
};

struct Build {
    explicit Build(const SourceText& source) : reading(source) {}

    Model model;
    Reading reading;
    WrittenUnits written_units;

    std::unordered_map<std::string, Named> names;
    std::vector<std::string> name_order;
    std::unordered_set<std::string> refused_names;           // given to something, but no names: a unit, "rpm-1"
    std::unordered_map<std::string, LoadId> loads;           // by name, those named like their output or relay as well
    std::unordered_map<std::string, std::string> terminals;  // who uses it
    std::unordered_map<std::string, std::string> roles;      // key of the engine section: quantity
    bool has_engine = false;                                 // there is a section, right or wrong
    Indexed<Quantity, std::vector<std::string>> seen_by;     // inputs that sense it
    Indexed<Quantity, bool> has_healthy;                     // the file says something
    std::vector<PendingLine> lines;
    std::vector<std::pair<LoopId, LocatedText>> read_backs;  // loop-back, name of its output
    std::vector<Definition> definitions;                     // logic, then outputs, in the order of the file
    std::unordered_map<SignalId, std::size_t> definition_of;
    std::unordered_set<std::string> mentioned;  // words in expressions and steps
    std::unordered_map<std::string, ConditionId> inline_conditions;
    Indexed<Switch, bool> switches_at_rest;  // filled when first needed
    std::vector<Entry> conditions;           // declared, not compiled yet
    std::vector<PendingDrive> drives;
    std::vector<std::pair<SourceId, LocatedText>> live_texts;  // sources, when they are live
    std::vector<std::pair<LoadId, NodeId>> magneto_leads;
    std::vector<WireLine> wires;                                      //
    std::unordered_map<std::string, std::vector<FaultId>> faults_of;  // by the name of a fault, of a part, of a pole
    bool has_circuit = false;                                         // there is a section, right or wrong
    bool unclear_outputs = false;                                     // an output object is wrong in itself
    Element owner;         // of the elements of the expression that is compiled now
    bool of_rule = false;  // a rule's claim is read: it speaks of kinds of parts that this model may not have
};

// Faults of the pieces of a wire that have one name: `W1.open`; null for all else.
const std::vector<FaultId>* fault_group(const Build& b, const std::string& name);
// What a name means; null if nothing. Standard quantities come into being when they are first asked for.
Named* resolve(Build& b, const std::string& name);
// Takes the name; false (and an error) if it is taken.
bool declare(Build& b, const Entry& e, Named named);
SignalId add_signal(Build& b, Signal s);
// One that is on or off, named as the entry.
SignalId add_on_off(Build& b, const Entry& e, SignalKind kind, AnyId index);
// A load of that name, which need not be declared.
LoadId add_load(Build& b, const Entry& e);
void add_quantity(Build& b, Quantity q, bool has_healthy = false);
// One that needs no entry in the file: named as the entry, with its standard range in the unit that the file writes.
void add_standard(Build& b, const StandardQuantity& q, const Entry& e);
// The type of values that are shown in this unit: temperatures are absolute.
Type value_type(const Unit& unit);
// "did you mean ...?" among the names of one kind of thing.
std::string suggest_thing(Build& b, const std::string& word, Thing wanted);
// Nothing (and an error) if there is no such unit.
std::optional<Unit> unit_named(Build& b, const LocatedText& symbol);
// None (and an error) if there is none of that name.
QuantityId quantity_named(Build& b, const LocatedText& name);
SwitchId switch_named(Build& b, const LocatedText& name);
void take_terminal(Build& b, const ObjectReader& object, const std::string& owner);

// Compiles for an owner of elements. Mentioning something broken makes it null without further complaints about types.
ExprPtr compile_for(Build& b, const LocatedText& text, Scope& scope, std::optional<Type> wanted, Element owner);
// In places where no memory can live.
ExprPtr compile_without_memory(Build& b, const LocatedText& text, Scope& scope, std::optional<Type> wanted);

// Times, all in seconds, none negative, none beyond `longest_time`.
std::optional<Rational> read_time(Build& b, const LocatedText& text, const std::string& what_for, bool above_zero);
std::optional<Interval> read_times(Build& b, const LocatedText& text, const std::string& what_for);
inline constexpr long longest_time = 1'000'000;
std::optional<Interval> read_interval(Build& b, const LocatedText& text, const Unit& unit, bool difference,
                                      const std::string& what_for);
bool inside(const Interval& part, const Interval& whole);
// The unit in which a computed number is shown: that of a value in its expression, if one fits.
Unit unit_for(const Model& m, const Expr& e);
std::string interval_text(const Interval& i, const Unit& unit, bool difference = false);

void build_head(Build& b, const ObjectReader& top);
void build_roles(Build& b, const ObjectReader& top);
void build_quantities(Build& b, const ObjectReader& top);
void build_inputs(Build& b, const ObjectReader& top);
void build_tables(Build& b, const ObjectReader& top);
void build_logic(Build& b, const ObjectReader& top);
void build_outputs(Build& b, const ObjectReader& top);
void build_relays(Build& b, const ObjectReader& top);
void build_circuit(Build& b, const ObjectReader& top);
void build_feeds(Build& b, const ObjectReader& top);
void build_loops(Build& b);
void build_engine(Build& b, const ObjectReader& top);
void build_faults(Build& b, const ObjectReader& top);
void build_definitions(Build& b);
void build_supply(Build& b, const ObjectReader& top);
void build_sources(Build& b);
void build_lines(Build& b);
void declare_conditions(Build& b, const ObjectReader& top);
void build_conditions(Build& b);
void build_claims(Build& b, const ObjectReader& top);
// Adds the claim to the model unless it is wrong.
void build_claim(Build& b, const Entry& e);
// The claims of the chosen packs' rules; all roles and values are checked, whether a rule needs them or not.
void build_rules(Build& b, const ObjectReader& top);
void finish_engine(Build& b);

// The steps of a procedure; nothing if one of them is wrong.
// `then_wait`: how long the driver waits after the last step, unless that is a wait itself.
std::optional<Procedure> build_steps(Build& b, const std::vector<LocatedText>& steps,
                                     const std::optional<LocatedText>& then_wait);
// Index of the condition that the text names or describes; -1 if it is wrong.
ConditionId condition_for(Build& b, const LocatedText& text);

// What is allowed but hardly meant: warnings, and limits on times that only show once expressions are compiled.
void check_model(Build& b);

}  // namespace lanyard::model
