// Model file -> Model. Reads everything, reports everything that is wrong, and believes nothing by halves: with one
// error there is no model.
#pragma once

#include <optional>
#include <string>

#include "base/diagnostic.hpp"
#include "model/model.hpp"
#include "model/packs.hpp"

namespace lanyard::model {

struct ReadResult {
    std::optional<Model> model;  // none if there are errors
    Diagnostics diagnostics;     // sorted by place; may hold warnings beside a model
    SourceText source;
};

// The rules of the packs become claims, where the model says who plays their roles.
ReadResult read_model(const std::string& shown_name, const std::string& text, const std::vector<PackPtr>& packs = {});

// JSON Schema (keywords shared by draft-07 and 2020-12) made from the tables that read_model works from.
std::string model_schema();

}  // namespace lanyard::model
