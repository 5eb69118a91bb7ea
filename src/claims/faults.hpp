// What is known of a claim when things break, as plain values.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "claims/verdict.hpp"

namespace lanyard {

// Faults that together break a claim; no part of them does.
struct CutSet {
    std::vector<int> faults;  // in Model::faults; rising
    // Ends where the claim is broken. Of a claim that something is possible: none; `certificate` then shows that the
    // goal is out of reach while they are there.
    std::optional<Run> run;
    std::optional<Certificate> certificate;
    std::size_t depth = 0;  // leaps of the run
};

// How far the list of sets of one size is complete.
struct OrderReport {
    int order = 1;
    bool complete = false;
    std::optional<Certificate> certificate;  // that no other set of at most this size breaks the claim
    std::string why_not;                     // the limit that was hit
};

struct ClaimFaults {
    int claim = -1;
    std::string not_judged;           // why: the claim does not hold without a fault either
    std::vector<CutSet> sets;         // by size, then in the order of Model::faults
    std::vector<OrderReport> orders;  // rising; ends at the first that is not complete
    std::optional<Run> example;       // of the claim without faults: reaches its goal, or demands something
    Timing timing;
};

}  // namespace lanyard
