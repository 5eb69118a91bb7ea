// A verdict told at length, as a plain value: what story.hpp lays out as lines and the page lays out as a document.
#pragma once

#include <string>
#include <vector>

#include "report/filmed.hpp"
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

// What is told too: what a certificate rests on, and other runs. Some callers show that themselves.
struct StoryParts {
    bool certificates = true;
    bool others = true;
};
// In the order of story() in story.hpp, which says what is told.
std::vector<Passage> telling(const FilmedResult& result, const StoryParts& parts = {});

// The driver's steps to the goal from wherever he is, of the model of a playbook (Proved::playbook).
Passage playbook_passage(const Model& playbook);

}  // namespace lanyard::report
