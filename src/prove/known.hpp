// What provers said before, in another run of the program: looked at before anybody searches.
//
// It is believed no more than a prover is. Kept are hits, each with the run that was shown, and invariants. A run is
// played from its beginning to its end by the interpreter; an invariant goes the way of every other, so which lemmas a
// proof needs and whether it is one are found out anew. Of what it rests on it is asked whether that is enough, not
// whether less would do. What does not pass is searched for as if nobody had known it. That nothing was found is not
// kept: nobody could check it.
//
// Answers to the same question about another state of the model - a threshold was changed, say - are tried as well.
// A run is gone through with the nearest choices that are legal now. Of the lemmas those that can still be read are
// asked for; if they are no proof as they stand, those of them that are inductive together (lemmas.cpp).
//
// Of a kept answer three things are taken: which of the possible proofs of the same is told, which names that are
// enough for it, and which of the possible runs is shown.
// Tested by: tests/prove/known_test.cpp, tests/cli/kept_test.py
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <variant>

#include "certify/rests_on.hpp"
#include "prove/ask.hpp"

namespace lanyard::prove {

struct KnownAnswer {
    std::variant<Reached, InvariantFound, RestsOn> finding;  // the last beside a proof, under a key of its own
    std::string prover;
    std::optional<Run> run{};       // that was shown of a hit
    bool of_another_model = false;  // another state of it
};

// What tells questions apart.
struct QuestionKey {
    std::string exact;  // the same for questions that have the same answer: all that has a say in it, as a SHA-256
    std::string like;   // the same for those that ask the same of different states of a model
    // What is shown beside an answer, by a name of its own.
    QuestionKey beside(const std::string& what) const { return {exact + what, like + what}; }
};

// Asked and told by several threads at once.
class KnownAnswers {
 public:
    KnownAnswers() = default;
    virtual ~KnownAnswers() = default;
    KnownAnswers(const KnownAnswers&) = delete;
    KnownAnswers& operator=(const KnownAnswers&) = delete;
    // Runs are of things that `model` has. An answer to a question that is like it where there is none to this one.
    virtual std::optional<KnownAnswer> look_up(const QuestionKey& key, const Model& model) = 0;
    virtual void keep(const QuestionKey& key, const KnownAnswer& answer, const Model& model) = 0;
    // What was looked up did not pass.
    virtual void drop(const QuestionKey& key) = 0;
};

// Could a prover have said so, by its form?
bool can_be_kept(const KnownAnswer& known);
bool can_be_kept(const Run& run);
// Is it about this question: its lemmas, written as a solver writes them, speak of its state and its tables alone?
bool can_be_read(const Question& q, const Certificate& c);
// Without the lemmas and points of which that is not so.
Certificate readable(const Question& q, const Certificate& c);

// `version`s of the program are for the one who keeps answers to tell apart.
QuestionKey key_of(const Question& q, const JudgeOptions& options);

// A run that is shown and that nothing else depends on: the kept one if `passes` says so of it, else what `find` finds.
std::optional<Run> shown_run(const Question& q, const JudgeOptions& options, const std::string& what,
                             const std::function<bool(const Run&)>& passes,
                             const std::function<std::optional<Run>()>& find);

}  // namespace lanyard::prove
