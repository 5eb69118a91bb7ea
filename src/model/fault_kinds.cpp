#include "model/fault_kinds.hpp"

namespace lanyard::model {

namespace {

// SAE J1939-73 (failure mode identifiers) and NAMUR NE 43 (failure signals of current loops) are cited from secondary
// texts and from memory. Their numbers name what a controller can tell of a fault, not the fault itself.
const char* const stays = "SAE J1939-73 failure mode 31, condition exists (from memory)";
const char* const open = "SAE J1939-73 failure mode 5, current below normal or open circuit (secondary)";
const char* const low = "SAE J1939-73 failure mode 4, voltage below normal or shorted low (secondary)";
const char* const high = "SAE J1939-73 failure mode 3, voltage above normal or shorted high (secondary)";
const char* const loop =
    "SAE J1939-73 failure mode 5 (secondary); a current loop below 3.6 mA, NAMUR NE 43 (secondary)";

std::vector<FaultKindHelp> of_inputs() {
    using K = FaultKind;
    const char* const compare = "compare it with a second sensor";
    const char* const range = "cut on readings that the sensor cannot give";
    return {
        {K::sensor_stuck, "sensor", "stuck", "permanently reads one value, any that it can have", "", stays,
         "the sensor %s sticks at one reading", compare},
        {K::sensor_frozen, "sensor", "frozen", "keeps reading what it read when the fault began", "", stays,
         "the sensor %s freezes at its reading", compare},
        {K::sensor_open, "sensor", "open", "its signal wire is broken", "reads", loop, "the signal wire of %s breaks",
         range},
        {K::sensor_to_ground, "sensor", "to_ground", "its signal wire is shorted to ground", "reads", low,
         "the signal wire of %s is shorted to ground", range},
        {K::sensor_to_supply, "sensor", "to_supply", "its signal wire is shorted to its supply", "reads", high,
         "the signal wire of %s is shorted to its supply", range},
        {K::sensor_drift, "sensor", "drift", "reads wrong by up to this much, on top of its accuracy", "by", "",
         "the sensor %s drifts", "allow for it in the thresholds"},
        {K::switch_stuck_off, "switch", "stuck_off", "its contact is as if the switch were off, whatever its position",
         "", stays, "the contact of %s stays as if the switch were off", "use a second pole or contact"},
        {K::switch_stuck_on, "switch", "stuck_on", "its contact is as if the switch were on, whatever its position", "",
         stays, "the contact of %s stays as if the switch were on", "use a second pole or contact"},
        {K::switch_bounces, "switch", "bounces", "while its contact is closed it may be found open", "", "",
         "the contact of %s bounces", "bridge it with an off-delay"},
    };
}

std::vector<FaultKindHelp> of_wiring() {
    using K = FaultKind;
    return {
        {K::wire_open, "wire", "open", "one piece of it is broken, between two points that its path names", "", open,
         "the wire %s breaks", "make loss of the wire the safe state"},
        {K::wire_to_ground, "wire", "to_ground", "chafed through to ground, at its right-hand end", "", low,
         "the wire %s is shorted to ground", "fuse it, and route it separately"},
        {K::wire_to_battery, "wire", "to_battery", "chafed through to battery plus, at its right-hand end", "", high,
         "the wire %s is shorted to battery plus", "route it away from live wires"},
        {K::terminal_open, "terminal", "open", "a terminal of a connector lost its contact", "", open,
         "the terminal %s loses its contact", "make loss of the contact the safe state"},
        {K::relay_never_pulls, "relay", "never_pulls", "its contact stays as if the coil were dead", "", stays,
         "the relay %s never pulls in", "make the relay without power the safe state"},
        {K::relay_welded, "relay", "welded", "once pulled in, its contact stays so", "", stays,
         "the contact of the relay %s welds", "put a second contact in series"},
        {K::relay_slow, "relay", "slow", "takes up to this long to pull in and to drop out", "takes", "",
         "the relay %s is slow", "allow for it in the times"},
        {K::fuse_open, "fuse", "open", "blown", "", open, "the fuse %s blows", "make loss of the fuse the safe state"},
        {K::diode_open, "diode", "open", "passes nothing", "", open, "the diode %s opens", "use two in parallel"},
        {K::diode_shorted, "diode", "shorted", "passes both ways", "", stays, "the diode %s passes both ways",
         "use two in series"},
        {K::load_open, "load", "open", "is broken inside: never has power", "", open, "the load %s is broken inside",
         "monitor its effect"},
    };
}

std::vector<FaultKindHelp> of_controller() {
    using K = FaultKind;
    return {
        {K::output_stuck_on, "output", "stuck_on", "what it drives is driven, whatever the command", "", stays,
         "the output %s stays on", "provide a second way to cut what it drives"},
        {K::output_stuck_off, "output", "stuck_off",
         "what it drives is not driven, whatever the command; with a half bridge neither half conducts", "", stays,
         "the output %s stays off", "make its loss the safe state"},
        {K::input_stuck_on, "input", "stuck_on", "the controller reads on, whatever is at the pin", "", stays,
         "the input %s stays on", "read it by a second input"},
        {K::input_stuck_off, "input", "stuck_off", "the controller reads off, whatever is at the pin", "", stays,
         "the input %s stays off", "read it by a second input"},
        {K::loop_open, "loop_back", "open", "its wire is broken: reads off", "", open,
         "the wire of the loop-back %s breaks", "make a lost loop the safe state"},
        {K::controller_resets, "controller", "resets", "may lose its power and restart at any scan", "", "",
         "the controller resets", "make what must last retained, and make a restart the safe state"},
        {K::controller_dead, "controller", "dead", "does nothing, as without power", "", stays, "the controller dies",
         "make a dead controller the safe state"},
        {K::ground_lost, "ground", "lost", "the bolt is loose: no connection to the chassis", "", open,
         "the ground point %s is lost", "use a second ground point"},
        {K::alternator_dead, "alternator", "dead", "supplies nothing", "", stays, "the alternator %s supplies nothing",
         ""},
        {K::field_stays_on, "alternator", "field_stays_on", "supplies plus even while its field is not fed", "", "",
         "the field of %s stays on", "break its output as well"},
        {K::event, "event", "", "an event of your own: only a name to use in expressions", "", "", "%s happens", ""},
    };
}

}  // namespace

const std::vector<FaultKindHelp>& fault_kind_table() {
    static const std::vector<FaultKindHelp> table = [] {
        std::vector<FaultKindHelp> all = of_inputs();
        for (const auto& more : {of_wiring(), of_controller()}) all.insert(all.end(), more.begin(), more.end());
        return all;
    }();
    return table;
}

const FaultKindHelp& fault_kind_help(FaultKind kind) { return fault_kind_table().at(ordinal(kind)); }

std::string fault_story(const Fault& fault) {
    std::string text = fault_kind_help(fault.kind).story;
    const std::size_t at = text.find("%s");
    if (at == std::string::npos) return text;
    // A pole, a piece of a wire: what stands before the word.
    const std::size_t point = fault.kind == FaultKind::event ? std::string::npos : fault.name.rfind('.');
    return text.replace(at, 2, fault.name.substr(0, point));
}

}  // namespace lanyard::model
