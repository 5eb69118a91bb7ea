// The bench card to be printed: one page for hand and pencil, in the frame of the report (document.hpp).
#pragma once

#include <string>

#include "claims/card.hpp"
#include "report/header.hpp"

namespace lanyard::page {

std::string card_page(const Model& model, const Card& card, const Versions& versions);

}  // namespace lanyard::page
