#include "circuit/finding.hpp"

namespace lanyard::circuit {

namespace {

using Kind = FindingKind;
constexpr FindingLevel warning = FindingLevel::warning;
constexpr FindingLevel hint = FindingLevel::hint;

// How currents are summed up: currents.hpp. What counts as fed: net.hpp.
std::vector<FindingHelp> rows() {
    return {
        {Kind::output_overload, "output-overload", warning,
         "An output has to carry more current than it is rated for: that of the loads and coils that can be fed by it "
         "alone and be "
         "on together, each with what it \"draws\", whatever the logic does. Anything without \"draws\" is left out.",
         ""},
        {Kind::fuse_above_wire, "fuse-above-wire", warning,
         "A fuse is rated higher than a wire after it may carry, up to the next fuse or output; the last piece before "
         "another fuse is left out. Sizes between two rows of the table count as the thinner one, those in the engine "
         "space may carry 0.85 of it; wires below 18 AWG are judged as 18 AWG (lenient). \"wire_table\" "
         "replaces the table.",
         "33 CFR 183.425, table 5 and its note 1, insulation for 105 degC (read in copies); 183.455(c)(1) lets fuses "
         "of boats below 50 V be half as large again"},
        {Kind::fuse_below_loads, "fuse-below-loads", warning,
         "The loads and coils fed through a fuse, as far as they can be on together and nothing else always feeds "
         "them, draw more than it is rated for.",
         ""},
        {Kind::no_fuse, "no-fuse", hint,
         "Wires lead from a battery to something with no fuse in between. A starter cable commonly has none.",
         "33 CFR 183.455(a), (b); 183.425(g) leaves starter cables out of its table (read in copies)"},
        {Kind::no_plus, "no-plus", warning, "A load or coil can never have plus, whatever the switches do.", ""},
        {Kind::no_ground, "no-ground", warning,
         "A load or coil can never have ground, whatever the switches do, or only where it needs plus.", ""},
        {Kind::not_asked, "not-asked", hint,
         "Parts that cannot affect any claim, however they are changed: they can neither bring plus or ground, nor "
         "block it, nor short what brings it. Not looked for in a wiring of more than 400 nodes.",
         ""},
        {Kind::coil_unsuppressed, "coil-unsuppressed", hint,
         "A relay's coil is driven by an output, with no diode across it and not \"suppressed\": when the output "
         "switches off, the coil's voltage spike can only go through the output. Half bridges are left out.",
         ""},
        {Kind::kill_needs_wire, "kill-needs-wire", warning,
         "A hand switch cuts the power of what the engine fires with (without an engine: of any load or output) by "
         "closing, whatever the rest of the logic says, and opening it never cuts that power: a broken wire defeats it "
         "unnoticed. Edges are ignored, timers count as elapsed.",
         "46 USC 4312 requires cut-off switches; a normally closed loop for them is common practice"},
        {Kind::fuse_ends_protection, "fuse-ends-protection", warning,
         "With one fuse blown the controller is dead, and yet everything that the engine fires with can have power, "
         "although a live controller could cut it. Other loads that lose power with the fuse are named too.",
         ""},
        {Kind::batteries_joined, "batteries-joined", hint,
         "The plus terminals of two batteries are connected by wires alone: one discharges the other.", ""},
        {Kind::switch_shorts, "switch-shorts", warning,
         "One position of one hand switch connects the plus of a battery or alternator to its minus, all other "
         "contacts "
         "open, with no load between; or wires do so without any switch. With a fuse on the way it blows.",
         ""},
        {Kind::changeover_joins, "changeover-joins", warning,
         "The halves of a change-over contact share an end. Two wires lead there, each of which has plus by itself: "
         "the "
         "two circuits are joined. Wires that are one piece of copper anyway are left out.",
         ""},
        {Kind::too_large, "wiring-too-large", hint, "The wiring is too large for some of these searches.", ""},
    };
}

}  // namespace

const std::vector<FindingHelp>& finding_table() {
    static const std::vector<FindingHelp> table = rows();
    return table;
}

const FindingHelp& finding_help(FindingKind kind) { return finding_table()[ordinal(kind)]; }

std::string finding_level_word(FindingLevel level) { return level == FindingLevel::warning ? "warning" : "hint"; }

}  // namespace lanyard::circuit
