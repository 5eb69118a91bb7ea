#include "circuit/finding.hpp"

namespace lanyard {

namespace {

using Kind = FindingKind;
constexpr FindingLevel warning = FindingLevel::warning;
constexpr FindingLevel hint = FindingLevel::hint;

// How currents are summed up: currents.hpp. What counts as fed: net.hpp.
std::vector<FindingHelp> rows() {
    return {
        {Kind::output_overload, "output-overload", warning,
         "An output is asked for more current than it gives: by the loads and coils that can hang on it alone and be "
         "on together, each with what it \"draws\", whatever the logic does. What does not say what it draws is left "
         "out.",
         ""},
        {Kind::fuse_above_wire, "fuse-above-wire", warning,
         "A fuse is larger than what a wire behind it may carry, up to the next fuse or output; the last piece before "
         "another fuse is left out. Sizes between two "
         "rows of the table count as the thinner one, those in the engine space carry 0.85 of it; wires below 18 AWG "
         "are judged as 18 AWG, which is too kind to them. \"wire_table\" takes the place of the table.",
         "33 CFR 183.425, table 5 and its note 1, insulation for 105 degC (read in copies); 183.455(c)(1) lets fuses "
         "of boats below 50 V be half as large again"},
        {Kind::fuse_below_loads, "fuse-below-loads", warning,
         "The loads and coils behind a fuse, as far as they can be on together and nothing else always feeds them, "
         "draw more than it carries.",
         ""},
        {Kind::no_fuse, "no-fuse", hint,
         "Wires lead from a battery to something without a fuse on the way. The cable of a starter commonly has none.",
         "33 CFR 183.455(a), (b); 183.425(g) leaves starter cables out of its table (read in copies)"},
        {Kind::no_plus, "no-plus", warning, "A load or coil can have no plus, whatever the switches do.", ""},
        {Kind::no_ground, "no-ground", warning,
         "A load or coil can have no ground, whatever the switches do, or only where it needs plus.", ""},
        {Kind::not_asked, "not-asked", hint,
         "Parts that have no say in any claim, however they are changed: what can neither bring plus or ground, nor "
         "keep it away, nor short what does. Not looked for in a wiring of more than 400 nodes.",
         ""},
        {Kind::coil_unsuppressed, "coil-unsuppressed", hint,
         "A relay's coil hangs on an output, with no diode across it and not \"suppressed\": when the output lets go, "
         "the coil's voltage has nowhere to go but through the output. Half bridges are left out.",
         ""},
        {Kind::kill_needs_wire, "kill-needs-wire", warning,
         "A hand switch takes power from what the engine fires with (without an engine: from any load or output) by "
         "closing, whatever the rest of the logic says, and nothing that its opening does takes it: a broken wire "
         "defeats it unseen. Edges count as nothing, timers as elapsed.",
         "46 USC 4312 asks for cut-off switches; that theirs is a normally closed loop is common practice"},
        {Kind::fuse_ends_protection, "fuse-ends-protection", warning,
         "With one fuse gone the controller is dead, and yet all that the engine fires with can have power, although "
         "the controller could take it while it lived. Named too: other loads that go with the fuse.",
         ""},
        {Kind::batteries_joined, "batteries-joined", hint,
         "The plus of two batteries is joined by bare wires: the one empties the other.", ""},
        {Kind::too_large, "wiring-too-large", hint, "The wiring is so large that some of these were not looked for.",
         ""},
    };
}

}  // namespace

const std::vector<FindingHelp>& finding_table() {
    static const std::vector<FindingHelp> table = rows();
    return table;
}

const FindingHelp& finding_help(FindingKind kind) { return finding_table()[static_cast<std::size_t>(kind)]; }

std::string finding_level_word(FindingLevel level) { return level == FindingLevel::warning ? "warning" : "hint"; }

}  // namespace lanyard
