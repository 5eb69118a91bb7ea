#include "model/written_units.hpp"

#include <algorithm>

#include "base/characters.hpp"

namespace lanyard::model {

namespace {

// Is there a number right before this place?
bool after_number(const std::string& text, std::size_t at) {
    while (at > 0 && text[at - 1] == ' ') --at;
    return at > 0 && is_digit(text[at - 1]);
}

}  // namespace

WrittenUnits::WrittenUnits(const json::Value& model) {
    std::vector<std::string> keys;
    read(model, keys);
}

void WrittenUnits::read(const json::Value& value, std::vector<std::string>& keys) {
    for (const auto& item : value.items) read(item, keys);
    for (const auto& m : value.members) {
        if (m.key == "note" || m.key == "name") continue;
        if (m.key == "senses" && !keys.empty()) sensors_.emplace_back(keys.back(), m.value.text);
        keys.push_back(m.key);
        read(m.value, keys);
        keys.pop_back();
    }
    if (value.kind != json::Kind::string) return;
    Text text{keys, mentions(value.text), {}};
    for (const auto& w : text.words) {
        const auto unit = find_unit(w.word);
        if (unit && unit->symbol != "K" && after_number(value.text, w.at)) text.units.emplace_back(*unit, w.at);
    }
    if (!text.units.empty()) texts_.push_back(std::move(text));
}

std::optional<std::size_t> WrittenUnits::begins(const Text& text, const std::string& quantity) const {
    const auto is_it = [&](const std::string& name) {
        const auto sensor = std::find(sensors_.begin(), sensors_.end(), std::pair(name, quantity));
        return name == quantity || sensor != sensors_.end();
    };
    if (std::any_of(text.keys.begin(), text.keys.end(), is_it)) return 0;
    for (const auto& w : text.words)
        if (is_it(w.word)) return w.at;
    return std::nullopt;
}

std::optional<Unit> WrittenUnits::of(const Dimension& dimension, const std::string& quantity) const {
    const Unit* anywhere = nullptr;
    for (const auto& text : texts_) {
        const auto from = begins(text, quantity);
        const Unit* in_text = nullptr;
        for (const auto& [unit, at] : text.units) {
            if (unit.dimension != dimension) continue;
            if (from && at >= *from) return unit;
            if (in_text == nullptr) in_text = &unit;
        }
        if (from && in_text != nullptr) return *in_text;
        if (anywhere == nullptr) anywhere = in_text;
    }
    return anywhere == nullptr ? std::nullopt : std::optional(*anywhere);
}

}  // namespace lanyard::model
