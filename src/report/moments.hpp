// A run as a table of moments: when, what the driver and the world did, what followed. Only changes are told, and only
// of what can have a say in the claim.
#pragma once

#include <string>
#include <vector>

#include "report/film.hpp"
#include "report/layout.hpp"

namespace lanyard::report {

struct Moment {
    long scan = -1;  // -1: the row says only that others are left out
    Row row;
    std::vector<SignalId> signals;  // that the row speaks of, in its order
    bool has_cause = false;         // that is marked
};

std::vector<Moment> moments(const Film& film);
std::string moments_table(const std::vector<Moment>& moments);

}  // namespace lanyard::report
