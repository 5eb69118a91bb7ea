// What became of the rules of the chosen packs: what a check of claims alone would not show.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "model/packs.hpp"
#include "report/json_values.hpp"

namespace lanyard::report {

// Two rules of the chosen packs that cannot both be met.
struct RuleConflict {
    std::string rule;
    std::string other;
    std::string why;
};
std::vector<RuleConflict> conflicts_of(const Model& model);

// "judged", "roles missing", "engine missing", "wiring missing"
std::string state_name(RuleState state);
// Why the rule was not judged, in words; empty if it was.
std::string state_reason(const RuleUse& use);

// Rules that do not apply, what is to be inspected by hand, conflicts; empty without packs.
std::string rules_text(const Model& model);
// Which rule a claim comes from, where that is written, how well the text is known: label and words. Empty for the
// model's own claims.
std::vector<std::pair<std::string, std::string>> words_on_rule(const Model& model, const Claim& claim,
                                                               bool with_advice);

Json rules_json(const Model& model);

}  // namespace lanyard::report
