// The rules that a proof names by a label (encode/system.hpp), in words: a range, a band, a line of `follows`, a line
// of a condition.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "model/model.hpp"

namespace lanyard::sim {

struct RuleWords {
    std::string text;        // "oil, healthy in cranking: 0 psi .. 12 psi"
    SignalId quantity;       // what it is a rule of
    ExprPtr about;           // what else it speaks of
    bool of_a_mode = false;  // it depends on the engine's mode
};
// `obeyed`: the conditions of the question. Nothing where the label is that of another rule.
std::optional<RuleWords> rule_words(const Model& model, const std::vector<const Condition*>& obeyed,
                                    const std::string& label);

}  // namespace lanyard::sim
