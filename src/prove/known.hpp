// What provers said before, in another run of the program: looked at before anybody searches.
//
// It is believed no more than a prover is. Kept is what a prover said, and nothing that was made of it: that a hit is
// to be found, and the invariant as it came. A hit is found again by bounded search, which ends with the shortest, and
// its run is derived and played as ever; an invariant goes the way of every other, so which lemmas a proof needs, what
// it rests on and whether it is one are found out anew. What does not pass is searched for as if nobody had known it.
// That nothing was found is not kept: nobody could check it.
//
// Of a kept answer one thing is taken: which of the possible proofs of the same is told.
// Tested by: tests/prove/known_test.cpp, tests/cli/kept_test.py
#pragma once

#include <optional>
#include <string>
#include <variant>

#include "prove/ask.hpp"

namespace lanyard::prove {

struct KnownAnswer {
    std::variant<Reached, InvariantFound> finding;
    std::string prover;
};

// Asked and told by several threads at once.
class KnownAnswers {
 public:
    KnownAnswers() = default;
    virtual ~KnownAnswers() = default;
    KnownAnswers(const KnownAnswers&) = delete;
    KnownAnswers& operator=(const KnownAnswers&) = delete;
    virtual std::optional<KnownAnswer> look_up(const std::string& key) = 0;
    virtual void keep(const std::string& key, const KnownAnswer& answer) = 0;
    // What was looked up did not pass.
    virtual void drop(const std::string& key) = 0;
};

// Could a prover have said so, by its form?
bool can_be_kept(const KnownAnswer& known);
// Is it about this question: its lemmas, written as a solver writes them, speak of its state and its tables alone?
bool can_be_read(const Question& q, const Certificate& c);

// The same for questions that have the same answer: all that has a say in it, as a SHA-256. `version`s of the program
// are for the one who keeps answers to tell apart.
std::string key_of(const Question& q, const JudgeOptions& options);

}  // namespace lanyard::prove
