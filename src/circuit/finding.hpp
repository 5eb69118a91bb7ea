// What can be said of a wiring without any claim: from the drawing alone, whatever the logic does.
#pragma once

#include <string>
#include <vector>

#include "model/model.hpp"

namespace lanyard::circuit {

enum class FindingKind {
    output_overload,
    fuse_above_wire,
    fuse_below_loads,
    no_fuse,
    no_plus,
    no_ground,
    not_asked,
    coil_unsuppressed,
    kill_needs_wire,
    fuse_ends_protection,
    batteries_joined,
    switch_shorts,
    changeover_joins,
    too_large,
};

enum class FindingLevel { warning, hint };

struct FindingHelp {
    FindingKind kind = FindingKind::not_asked;
    std::string code;  // "fuse-above-wire"
    FindingLevel level = FindingLevel::hint;
    std::string meaning;  // what is looked for and what it leaves out
    std::string source;   // where the rule is written; empty: common practice
};

// All values of FindingKind, in their order.
const std::vector<FindingHelp>& finding_table();
const FindingHelp& finding_help(FindingKind kind);
std::string finding_level_word(FindingLevel level);  // "warning", "hint"

struct WiringFinding {
    FindingKind kind = FindingKind::not_asked;
    Place place;  // in the model file
    std::string pointer;
    std::string what;  // one sentence
    std::string why;   // why it matters; may be empty
    std::string hint;  // what to do about it; may be empty
};

// By place, then by kind. Empty for a model without a circuit.
std::vector<WiringFinding> findings_of(const Model& model);

}  // namespace lanyard::circuit
