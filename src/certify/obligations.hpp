// What a certificate must show, as SMT-LIB 2.6 texts that any solver can judge - and that are judged here, in a fresh
// solver, from those very texts, before the word "proved" is printed.
//
//   start   an initial state outside the invariant                                     must be unsat
//   step    a legal step from inside the invariant to outside                          must be unsat
//   safe    `induction` consecutive legal steps inside it, the last one hitting        must be unsat
//   base    (induction > 1) a hit within the first `induction` - 1 steps               must be unsat
//   reached (of what follows a run) the run, unrolled, ends in the state that is started from  must be sat
//   alive   the run at which the claim demands something, unrolled                     must be sat
//
// Never includes anything of prove/: whoever found the invariant is not asked.
// Tested by: tests/certify/evidence_test.py, tests/lies/main.cpp
#pragma once

#include <string>
#include <vector>

#include "certify/lemma_text.hpp"
#include "claims/question.hpp"
#include "encode/system.hpp"

namespace lanyard::certify {

// The same question asked with all that may stand in a run's way.
Question with_binding_quantities(const Question& q);

// The question about what may follow `run`, a run of the same question; nothing if its end cannot be told.
std::optional<Question> behind(const Question& q, const Run& run);

// The system of a question in a context, and the truth that is asked about.
System system_of(z3::context& ctx, const Question& q, bool named);
// The same with the car's parts as constants (encode/parts.cpp), from the model's own start.
System system_in_parts(z3::context& ctx, const Question& q);
z3::expr target_of(const System& s, const Question& q);

struct Obligation {
    std::string name;
    std::string text;  // a complete SMT-LIB file
    bool satisfiable = false;
};

// None where the certificate cannot be read, or where a text of them would speak of something that is not the system's.
std::vector<Obligation> obligations(const Question& q, const Certificate& c);
// The unrolling of a run, with every choice fixed: satisfiable.
Obligation alive(const Question& q, const Run& run);
// The same and one more legal scan: unsatisfiable where the run is a dead end. Without a run: from the start. With
// `any_mode`, whichever mode the engine goes to after the run's last scan.
Obligation stuck(const Question& q, const Run& run, bool any_mode);
// The run with its last scan as a segment of its own.
Run with_last_scan_apart(const Run& run);
// The unrolling of the run that the question starts behind ends in its start: satisfiable.
Obligation reached(const Question& q);
// The steps of a run, every choice fixed, from the initial state.
void add_run(Solver& to, const System& s, const Run& run);
// The run with one scan a segment: whatever a leap may be in a system, that is one.
Run scan_by_scan(const Run& run);
// Truths of one context that cannot hold together.
Obligation apart(const std::string& name, const std::string& title, const std::vector<z3::expr>& truths);

enum class Check { holds, fails, unknown };
struct CheckResult {
    Check check = Check::unknown;
    std::string where;  // the obligation that failed
};
CheckResult check_obligations(const std::vector<Obligation>& all, std::uint64_t budget);

}  // namespace lanyard::certify
