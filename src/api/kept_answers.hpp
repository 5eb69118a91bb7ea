// Answers as they stand in a kept file (kept.hpp).
#pragma once

#include <nlohmann/json.hpp>
#include <optional>

#include "prove/known.hpp"

namespace lanyard::api {

nlohmann::ordered_json to_json(const lanyard::model::Model& model, const KnownAnswer& answer);

// Nothing where something is missing, too much, of another kind or out of range. Of a run, what `model` does not have
// is left out, and what is new in it stays at its lowest.
std::optional<KnownAnswer> answer_from(const lanyard::model::Model& model, const nlohmann::ordered_json& json);

}  // namespace lanyard::api
