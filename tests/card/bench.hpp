// Cards of models that stand in the test.
#pragma once

#include <catch2/catch.hpp>
#include <string>

#include "card/make_card.hpp"
#include "model/read.hpp"

namespace lanyard::test {

inline Model model_of(const std::string& text) {
    ReadResult read = read_model("t.json", text);
    INFO(render(read.diagnostics, read.source));
    REQUIRE(read.model);
    return std::move(*read.model);
}

inline DriverOptions usual_limits() {
    DriverOptions limits;
    limits.work_limit = card::work_of_question;
    return limits;
}
inline Card card_of(const Model& model) { return make_card(model, usual_limits()); }
inline Card card_of(const std::string& text) { return card_of(model_of(text)); }

}  // namespace lanyard::test
