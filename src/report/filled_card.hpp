// A bench card that somebody filled in, against the model.
#pragma once

#include <string>
#include <vector>

#include "claims/card.hpp"

namespace lanyard::report {

struct FilledCard {
    struct Wrong {
        const CardReading* reading = nullptr;  // of the card
        const CardStep* step = nullptr;
        std::string found;
        Place place;
        std::vector<ClaimId> claims;  // of the model: those that can depend on it; rising
    };
    std::vector<Wrong> wrong;
    std::size_t read = 0, missing = 0;
    std::size_t on_threshold = 0;  // that say otherwise within a sensor's accuracy
    Diagnostics diagnostics;       // with an error in them the rest is to be thrown away
};

// `card` has to outlive the answer.
FilledCard read_filled_card(const Model& model, const Card& card, const SourceText& source);

std::string filled_card_text(const Model& model, const Card& card, const FilledCard& filled, const SourceText& source);

}  // namespace lanyard::report
