// The bench card, for its own command and for whoever makes it beside something else.
#pragma once

#include "api/impl.hpp"
#include "claims/card.hpp"

namespace lanyard::api {

// Throws InternalError of the public face.
Card card_of(const Model& model, const CardOptions& options);
CardReport card_report(const Model& model, const Card& card);

}  // namespace lanyard::api
