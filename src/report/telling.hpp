// A verdict told at length, as a plain value: what story.hpp lays out as lines and the page lays out as a document.
#pragma once

#include <string>
#include <vector>

#include "claims/verdict.hpp"
#include "model/model.hpp"
#include "report/moments.hpp"
#include "report/reasons.hpp"

namespace lanyard::report {

// One of sentences, moments and reasons.
struct Passage {
    std::string label;  // "claim", "broken", "why"; moments have none
    std::vector<std::string> sentences = {};
    std::vector<Moment> moments = {};
    std::vector<Reason> why = {};
};

// In the order of story() in story.hpp, which says what is told. `certificates`: as there.
std::vector<Passage> telling(const Model& model, const ClaimResult& result, bool certificates = true);

// The driver's steps to the goal from wherever he is, of the model of a playbook (Proved::playbook).
Passage playbook_passage(const Model& playbook);

}  // namespace lanyard::report
