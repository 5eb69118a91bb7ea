// A real time axis with breaks.
//
// What it decides: where the scans at which something happens stand. Everywhere the same length is the same time,
// except in breaks, which are marked and say how long they are.
//
// How: all of the run is drawn to scale if then any two neighbours are apart by at least a visible step. If not, the
// longest wait becomes a break, then the next one, until the rest fits. What is still too near is moved to the visible
// step; then the axis is longer than the page wants. Whole numbers only: the same on any machine.
// Tested by: tests/page/parts_test.cpp
#pragma once

#include <string>
#include <vector>

#include "base/layers.hpp"

namespace lanyard::page {

struct Axis {
    std::vector<int> at;         // per scan that was given: its place
    std::vector<bool> is_break;  // per scan but the last: what lies between it and the next is not to scale
    int width = 0;
};

// `scans`: rising; `must_break`: per scan but the last.
Axis axis_of(const std::vector<long>& scans, const std::vector<bool>& must_break, int wanted_width);

}  // namespace lanyard::page
