// Cards of models that stand in the test.
#pragma once

#include <string>

#include "../models.hpp"
#include "card/make_card.hpp"

namespace lanyard::test {

using namespace card;

inline DriverOptions usual_limits() {
    DriverOptions limits;
    limits.work_limit = work_of_question;
    return limits;
}
inline Card card_of(const Model& model) { return make_card(model, usual_limits()); }
inline Card card_of(const std::string& text) { return card_of(model_from(text)); }

}  // namespace lanyard::test
