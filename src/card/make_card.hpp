// The bench card of a model: see plan.hpp for how it is found. Every expected value is what the interpreter says: the
// steps are played once more with true times, and again on the model as it stood before its logic was taken apart; if
// both do not agree, no card is given.
#pragma once

#include "card/limits.hpp"
#include "claims/card.hpp"

namespace lanyard::card {

// Throws InternalError.
Card make_card(const Model& model, const DriverOptions& options);

}  // namespace lanyard::card
