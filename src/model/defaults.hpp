// Common practice: what a model may leave out. None of these numbers has a source; every verdict that rests on one of
// them says so.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "lang/compile.hpp"
#include "model/model.hpp"

namespace lanyard::model {

// "850", "7200": numbers in the quantity's own unit.
struct StandardBand {
    std::string lo;
    std::string hi;
    std::string after;  // seconds; empty = at once
    std::string before_lo;
    std::string before_hi;
};

struct StandardValues {
    std::string unit;
    std::string lo;
    std::string hi;
    std::array<std::optional<StandardBand>, mode_count> healthy;
};

struct StandardQuantity {
    std::string name;
    std::string role;  // key of the engine section; empty if it has none
    // The same in several units, in round numbers of each. The first counts where the file has none of them.
    std::vector<StandardValues> in;
};

const std::vector<StandardQuantity>& standard_quantities();
const StandardQuantity* find_standard(const std::string& name);

Dimension dimension_of(const StandardQuantity& q);
// `unit`: in which the file speaks of it, if it does.
Unit unit_of(const StandardQuantity& q, const std::optional<Unit>& unit);
Interval range_of(const StandardQuantity& q, const std::optional<Unit>& unit);
std::optional<ModeBand> healthy_of(const StandardQuantity& q, Mode mode, const std::optional<Unit>& unit);

inline constexpr const char* standard_firing_time = "0.5 .. 2 s";
inline constexpr const char* standard_coast_down = "0.3 .. 3 s";
inline constexpr const char* standard_catches_above = "400 rpm";
inline constexpr const char* standard_press = "0.3 s";
inline constexpr const char* standard_reaction = "0 .. 0.5 s";

}  // namespace lanyard::model
