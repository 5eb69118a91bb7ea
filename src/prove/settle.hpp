// A run that was found, made plainer: what it does not need is left out, and the rest happens as early as it can.
#pragma once

#include <functional>

#include "prove/ask.hpp"
#include "sim/interpreter.hpp"

namespace lanyard::prove {

// A run that ends where it answers the question (bad: the claim is broken, or a possible claim's goal is there), and
// is no less ordinary than `run`, which does so too. Never about states (Question::extra) nor what follows a run.
Run settled(const Question& q, const Run& run, const JudgeOptions& options);

// Where a run ends: at the first scan of which this is true. `after`: the state behind it; `run`: up to it.
using IsEnd = std::function<bool(const Scan& shown, const Interpreter& after, const Run& run)>;
// The same of a run that ends so.
Run settled(const Question& q, const Run& run, const JudgeOptions& options, const IsEnd& is_end);

// The run played on for so many scans with everything as it is in the last one, as far as the world lets it be: is the
// claim broken all the while?
bool stays_broken(const Question& q, const Run& run, long scans);

// Up to the first scan that answers the question, played with the run's own choices; nothing if none does.
std::optional<Run> up_to_answer(const Question& q, const Run& run);

}  // namespace lanyard::prove
