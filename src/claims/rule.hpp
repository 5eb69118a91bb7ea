// What of a claim calls for something, and what it calls for.
#pragma once

#include <optional>

#include "model/model.hpp"

namespace lanyard::claims {

// While the first is true - or once it has been, for the time that the claim gives - the second has to be.
struct Rule {
    ExprPtr premise, answer;
};

// Of responses and of "always A -> B"; "never both" calls for the one to be off while the other is on. Nothing: the
// claim calls for something all the time, or is of another kind.
std::optional<Rule> rule_of(const Claim& claim);

}  // namespace lanyard::claims
