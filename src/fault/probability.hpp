// How likely a top event is, if the basic events are independent.
#pragma once

#include <cstddef>
#include <vector>

#include "fault/basic_event.hpp"
#include "fault/cut_sets.hpp"

namespace lanyard::fault {

// Probabilities of the basic events, by number. All functions here throw std::invalid_argument if there are fewer of
// them than events that are asked for, or one is not within 0 .. 1.
using Probabilities = std::vector<double>;

// The exact probability of one function, made ready for many evaluations. Nothing is approximated but by rounding: only
// products and sums of numbers that are not negative, so the relative error is a few units in the last place for each
// event on the way down.
class Evaluator {
 public:
    Evaluator(const Diagrams& s, Function f);
    double operator()(const std::vector<Chance>& events) const;
    std::size_t size() const { return nodes_.size(); }

 private:
    struct Node {
        std::size_t event, on, off;  // places in the list of values; constants stand first
    };
    std::vector<Node> nodes_;
    std::size_t events_ = 0;  // how many must be given
    std::size_t root_ = 0;
};

double exact_probability(const Diagrams& s, Function f, const Probabilities& p);

// NOT exact: the sum of the cut sets' probabilities. An upper bound (Boole's inequality) that may be above 1, near the
// truth where all probabilities are small.
double rare_event_sum(const std::vector<CutSet>& minimal_cut_sets, const Probabilities& p);

}  // namespace lanyard::fault
