// What a claim says, in words.
#pragma once

#include <string>
#include <vector>

#include "model/model.hpp"

namespace lanyard::report {

// "always", "response", "possible", "procedure", "recoverable", "change limit", in the order of Claim::body.
const std::vector<std::string>& all_kinds();
std::string kind_of(const Claim& claim);

// "whenever a has held for 7 s: b within 200 ms"; a procedure: its steps, numbered, and what they have to lead to.
std::vector<std::string> claim_sentences(const Model& model, const Claim& claim);
// The same behind its kind and conditions.
std::vector<std::string> plain_sentences(const Model& model, const Claim& claim);

// As the claim has it: often no more than a name.
const std::string& condition_text(const Model& model, const Claim& claim);
// In a table: its text where that is short or a name, else "condition 2", which long_conditions() spells out.
std::string condition_label(const Model& model, ConditionId condition);
// "condition 2: NOT start AND ...", once each.
std::vector<std::string> long_conditions(const Model& model);
// "broken: any, key, one fault of W1": what a name stands for as well.
std::string condition_in_full(const Model& model, ConditionId condition);

// The model's file without the folders that lead to it.
std::string file_name(const Model& model);

}  // namespace lanyard::report
