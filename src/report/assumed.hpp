// What a model takes for granted of the car: numbers that stand in its file or come from common practice, and that only
// a measurement on the car can make true. A list for the builder.
#pragma once

#include <string>
#include <vector>

#include "model/model.hpp"

namespace lanyard::report {

inline constexpr const char* common_practice = "common practice";

struct Assumed {
    std::string what;   // "oil_pressure, running"
    std::string value;  // "2 .. 6 bar from 2 s (before: 0 .. 6 bar)"
    std::string where;  // "line 23", or common_practice
    bool is_practice() const { return where == common_practice; }
};

// Ranges, accuracies and delays of sensors, times of relays and engine; what is healthy only where a claim is about a
// healthy engine; then the user's own conditions.
std::vector<Assumed> assumed_numbers(const Model& model);

}  // namespace lanyard::report
