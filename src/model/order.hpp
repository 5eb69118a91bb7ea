// An order in which each definition stands behind what it reads.
#pragma once

#include <cstddef>
#include <utility>
#include <vector>

#include "base/layers.hpp"

namespace lanyard::model {

struct Reads {
    std::vector<std::size_t> now;      // values of the same scan
    std::vector<std::size_t> earlier;  // values of the scan before: no matter for evaluation, but types come from there
};

struct Order {
    std::vector<std::size_t> sequence;             // all of them; those in cycles at any place
    std::vector<std::vector<std::size_t>> cycles;  // each reads the next, the last one reads the first
    std::vector<bool> in_cycle;
};

Order order_of(const std::vector<Reads>& graph);

}  // namespace lanyard::model
