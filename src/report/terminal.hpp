// A claim in one line, and what a proof rests on.
#pragma once

#include <string>

#include "report/filmed.hpp"

namespace lanyard::report {

// "proved", "refuted", "vacuous", "undecided": for files.
std::string verdict_name(const Verdict& verdict);
// "proved", "REFUTED", "VACUOUS", "undecided": for people. What is bad is told by its letters, not by colour alone.
std::string verdict_word(const Verdict& verdict);

// What is said behind verdict, claim and condition: one line, no time of day, no colour.
// "rests on: turning, oil_low", "NOT injectors comes too late", "no counterexample up to 40 leaps"
std::string summary(const FilmedResult& result);

// Of an undecided claim that was searched: "no counterexample within 40 leaps"
std::string searched_words(const FilmedResult& result, const Undecided& undecided);

// "  REFUTED    it starts  under healthy  engine = running is not reached", without a line end; the caller adds times.
// Columns are wide enough for all claims of the model.
std::string terminal_line(const FilmedResult& result, bool colour);

}  // namespace lanyard::report
