// Verdicts told at length. Everything is text of whole lines of at most about 100 columns, the same bytes each time.
#pragma once

#include <string>

#include "report/header.hpp"
#include "report/telling.hpp"

namespace lanyard::report {

// "it starts: REFUTED, car.json:41:17", without a line end.
std::string story_heading(const Model& model, const ClaimResult& result);

// The claim in plain words, then
// - refuted, with a run: the table of moments, what is broken at the last, the chain of causes, the numbers that
//   nobody has measured;
// - proved `possible`: the table of moments that leads there;
// - proved: what it rests on, and in one line when the claim demands something;
// - refuted `possible`: what makes it impossible; vacuous, undecided: the reason.
// Without heading and indentation. The runs have to be legal ones.
std::string story(const FilmedResult& result, const StoryParts& parts = {});

// What a run does, as a table of moments (the example of a proof).
std::string moments_text(const Film& film);

// All of a check: heading, a line for each claim, the stories, a line that points to SAFETY.md.
std::string whole_report(const Model& model, const FilmedResults& results, const Versions& versions);

// The last line of every whole report, without a line end.
std::string safety_line();

}  // namespace lanyard::report
