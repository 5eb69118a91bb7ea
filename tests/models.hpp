// Models that are written in a test, and what they hold, found by name.
#pragma once

#include <algorithm>
#include <catch2/catch.hpp>
#include <string>
#include <utility>
#include <vector>

#include "ids.hpp"
#include "model/read.hpp"

namespace lanyard::test {

using namespace model;

// ' stands for ".
inline std::string requoted(std::string text) {
    std::replace(text.begin(), text.end(), '\'', '"');
    return text;
}

// The text of a whole file; if it is wrong, the test fails with all that is said of it.
inline Model model_from(const std::string& text, const std::string& file = "car.json",
                        const std::vector<PackPtr>& packs = {}) {
    ReadResult read = read_model(file, text, packs);
    INFO(render(read.diagnostics, read.source));
    REQUIRE(read.model);
    return std::move(*read.model);
}

// The sections of a file, with ' for ".
inline Model model_of(const std::string& sections, const std::string& name = "small") {
    return model_from(requoted("{'lanyard': 1, 'name': '" + name + "', " + sections + "}"), name + ".json");
}

template <class Item>
Id<Item> index_of(const Indexed<Item>& items, std::string Item::*name, const std::string& wanted) {
    const auto all = items.ids();
    const auto at = std::find_if(all.begin(), all.end(), [&](Id<Item> i) { return items[i].*name == wanted; });
    INFO(wanted);
    REQUIRE(at != all.end());
    return *at;
}
inline ClaimId claim_named(const Model& m, const std::string& id) { return index_of(m.claims, &Claim::id, id); }
inline ConditionId condition_named(const Model& m, const std::string& name) {
    return index_of(m.conditions, &Condition::name, name);
}

}  // namespace lanyard::test
