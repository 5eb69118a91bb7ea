// What somebody would say who saw the run: "starter and oil_lamp are both on", not "NOT 2 of (starter, oil_lamp) is
// false". Only what follows from the expression and its value is said; an expression that takes more than a few such
// words has none, and is shown as it was written.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "report/film.hpp"

namespace lanyard::report {

// "starter" is "on", "the engine" is "running"
struct PlainState {
    std::string subject;
    std::string state;

    friend bool operator==(const PlainState&, const PlainState&) = default;
};

// What all has to be so for the expression to have that value, and is enough for it. Nothing: no plain words.
std::optional<std::vector<PlainState>> plain_states(const Model& model, const Expr& e, bool value);
// The same of one thing alone.
std::optional<PlainState> plain_state(const Model& model, const Expr& e, bool value);

// "starter and oil_lamp", "the injectors"
std::string plain_subject(const std::vector<PlainState>& states);
// Whether the subject takes "are". A name that ends like a plural is one; of an odd name only the grammar suffers.
bool is_plural(const std::vector<PlainState>& states);
// "on", "both off"; empty where they are not the same.
std::string plain_predicate(const std::vector<PlainState>& states);

// Why the expression has its value at the end of the film: "the injectors are on". Empty: no plain words.
std::string plain_fact(const Film& film, const Expr& e);

// "the injectors are on and key is off", of what all has to be so; what is so of none of them is not said.
std::string plain_sentence(const std::vector<PlainState>& states);

// "its goal, a XOR b," - or "its goal" where the expression is too long for a line.
std::string named_with(const std::string& what, const Model& model, const Expr& e);

// What has happened where the claim does not hold, as its word has it. Empty: the word does not say so.
std::string failure_words(const Model& model, const Claim& claim);

}  // namespace lanyard::report
