// American wire gauge: what a size such as "16 AWG" is in mm2.
#pragma once

#include <string>
#include <vector>

#include "base/rational.hpp"

namespace lanyard::model {

struct WireGauge {
    std::string gauge;  // "16", "00"
    Rational area;      // mm2
};

// From thin to thick.
const std::vector<WireGauge>& wire_gauges();

// The cross-section of a gauge of that table.
const Rational& gauge_area(const std::string& gauge);

}  // namespace lanyard::model
