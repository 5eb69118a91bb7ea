// Answers that were found before, by another run of the program: looked at before anybody searches.
//
// They are believed no more than a prover is: a run is played again, a certificate's obligations are checked in a fresh
// solver. What does not pass is searched for as if nobody had known it. Of an answer that passes, two things are taken
// as they are: that the run is the shortest, and which elements the certificate says that it needs.
#pragma once

#include <optional>
#include <string>

#include "prove/ask.hpp"

namespace lanyard {

struct KnownAnswer {
    Answered answer;
    std::string engine;
};

// Asked and told by several threads at once.
class KnownAnswers {
 public:
    KnownAnswers() = default;
    virtual ~KnownAnswers() = default;
    KnownAnswers(const KnownAnswers&) = delete;
    KnownAnswers& operator=(const KnownAnswers&) = delete;
    // `model`: the question's, of which a run is.
    virtual std::optional<KnownAnswer> look_up(const std::string& key, const Model& model) = 0;
    virtual void keep(const std::string& key, const Model& model, const KnownAnswer& answer) = 0;
};

// The same for questions that have the same answer: all that has a say in it, as a SHA-256. `version`s of the program
// are for the one who keeps answers to tell apart.
std::string key_of(const Question& q, const JudgeOptions& options);

}  // namespace lanyard
