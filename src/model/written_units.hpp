// In which units a model file speaks of its quantities.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "lang/units.hpp"
#include "model/json.hpp"
#include "model/mentions.hpp"

namespace lanyard::model {

class WrittenUnits {
 public:
    WrittenUnits() = default;
    explicit WrittenUnits(const json::Value& model);

    // The unit of the dimension that is written first with the quantity or a sensor of it: after its name in a text, in
    // its entry, or at least in the same text. Else the one that is written first anywhere; nothing if none is. A
    // kelvin is no unit of a temperature here: it may be a difference.
    std::optional<Unit> of(const Dimension& dimension, const std::string& quantity) const;

 private:
    struct Text {
        std::vector<std::string> keys;  // on the way to it
        std::vector<Mention> words;
        std::vector<std::pair<Unit, std::size_t>> units;  // after numbers, and where
    };
    void read(const json::Value& value, std::vector<std::string>& keys);
    // Where the text begins to speak of the quantity; nothing if it does not.
    std::optional<std::size_t> begins(const Text& text, const std::string& quantity) const;

    std::vector<Text> texts_;                                   // those with units, in the order of the file
    std::vector<std::pair<std::string, std::string>> sensors_;  // name, quantity
};

}  // namespace lanyard::model
