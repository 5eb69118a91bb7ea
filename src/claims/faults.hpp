// What is known of a claim when things break, as plain values.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "claims/verdict.hpp"

namespace lanyard::claims {

// Faults that together break a claim; no part of them does.
struct CutSet {
    std::vector<FaultId> faults;  // in Model::faults; rising
    // Ends where the claim is broken. Of a claim that something is possible: none; `certificate` then shows that the
    // goal is out of reach while they are there.
    std::optional<Run> run;
    std::optional<Certificate> certificate;
    std::size_t depth = 0;  // leaps of the run
    // Where faults are there from the start: those that, there as well, make the claim hold again; those of which that
    // was not decided.
    std::vector<FaultId> undone_by{}, undone_open{};
};

// How far the list of sets of one size is complete.
struct OrderReport {
    int order = 1;
    bool complete = false;
    std::optional<Certificate> certificate;  // that no other set of at most this size breaks the claim
    std::string why_not;                     // the limit that was hit
};

// How a fault that is there shows. What is not seen in the runs that were played is not proved to stay hidden.
enum class Shows {
    in_use,      // a load does something else while the car is started and driven as its claims have it
    on_a_bench,  // only where a protection is called upon, or switches and quantities are moved at will
    not_seen,    // in none of the runs
};

struct Effect {
    FaultId fault;                 // in Model::faults
    std::vector<SignalId> lost;    // loads that lack power where they have it without the fault
    std::vector<SignalId> gained;  // loads that have power where they lack it
    Shows shows = Shows::not_seen;
};

// How much a fault matters for the probability that a claim is broken; definitions in fault/importance.hpp.
struct FaultWeight {
    FaultId fault;
    double birnbaum = 0, criticality = 0, fussell_vesely = 0;
};

// How likely the known sets of faults are, if faults are independent of each other.
struct Likelihood {
    std::string why_not;            // a fault of the sets has no number; the rest is then empty
    double exact = 0;               // probability that some set is there, at the end of the longest test interval
    double rare_event_sum = 0;      // the sum over the sets: an upper bound, no probability
    std::optional<double> average;  // over the test interval: average probability of failure on demand
    double average_error = 0;       // the average is no further off
    double hours = 0;               // that interval
    std::vector<FaultWeight> weights;
};

struct ClaimFaults {
    ClaimId claim;
    std::string not_judged;           // why: the claim does not hold without a fault either
    bool not_settled = false;         // whether it does was not decided
    std::vector<CutSet> sets;         // by size, then in the order of Model::faults
    std::vector<OrderReport> orders;  // rising; ends at the first that is not complete
    // Faults that were asked about once for all of a group, as long as one was there at a time (fault/alike.hpp): the
    // certificate for one fault speaks of the first of each group.
    std::vector<std::vector<FaultId>> alike;
    std::optional<Run> example;  // of the claim without faults: reaches its goal, or demands something
    Timing timing;
};

// Whether the example was played as the car in use: it is started and driven. An example in which a protection is
// called upon is none, and random runs are none either.
inline bool shows_use(const Model& model, const ClaimFaults& c) {
    const auto& body = model.claims[c.claim].body;
    return c.example && (std::holds_alternative<Possible>(body) || std::holds_alternative<Procedure>(body));
}

}  // namespace lanyard::claims
