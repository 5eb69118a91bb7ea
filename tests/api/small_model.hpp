// A model with a claim for each verdict.
#pragma once

#include <catch2/catch.hpp>

#include <lanyard/lanyard.hpp>

namespace lanyard::test {

inline constexpr const char* small_text = R"json({
  "lanyard": 1, "name": "small",
  "inputs": {"key": "maintained", "start": "momentary", "oil": {"senses": "oil_pressure"}},
  "logic": {"held": "RS(start, NOT key)", "low": "TON(oil < 10 psi, 200 ms)"},
  "outputs": {"pump": "key AND held"},
  "claims": {
    "follows": {"always": "pump -> key"},
    "dark": {"always": "NOT pump"},
    "waits in vain": {"always": "(pump AND NOT key) -> held"},
    "low in time": {"whenever": "oil < 10 psi", "then": "low", "within": "300 ms"}
  }
})json";

inline api::Model small_model() {
    auto loaded = api::load_text(small_text, "small.json");
    if (const auto* wrong = std::get_if<api::Rejected>(&loaded)) FAIL(wrong->text);
    return std::get<api::Model>(std::move(loaded));
}

inline api::Results checked(const api::Model& model, api::CheckOptions options = {}) {
    options.limits.jobs = 1;
    auto out = api::check(model, options);
    if (const auto* wrong = std::get_if<api::Rejected>(&out)) FAIL(wrong->text);
    return std::get<api::Results>(std::move(out));
}

}  // namespace lanyard::test
