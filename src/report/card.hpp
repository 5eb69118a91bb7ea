// The bench card as text and as a table to be filled in.
#pragma once

#include <string>
#include <vector>

#include "claims/card.hpp"
#include "report/header.hpp"

namespace lanyard::report {

std::string card_text(const Model& model, const Card& card, const Versions& versions);

// RFC 4180. One line a reading; the column `reading` is empty.
std::string card_csv(const Model& model, const Card& card);
// What stands in its first column, so that nobody takes it for the card of another model, or for one of this model
// that was made within other limits.
struct CardMark {
    std::string model, card;
    std::string text() const { return model + "-" + card; }
};
CardMark card_mark(const Model& model, const Card& card);
// The columns of it, in order.
const std::vector<std::string>& card_columns();

// "impossible", "in passing" ...
std::string gap_word(GapKind kind);
// What is said before the first step, a paragraph each.
std::vector<std::string> card_preparations(const Card& card);
std::string card_summary(const Card& card);
// Said in place of steps where there is none.
std::string why_no_card(const Card& card);
// "4 on", "7 off (hidden)"
std::string card_test_words(const CardTest& test);

}  // namespace lanyard::report
