// What it computes: the probability of a function whose events are independent, from its decision diagram.
// Why it is exact: the two branches of a node exclude each other and do not ask for the node's event again, so
// P(f) = p P(on) + (1 - p) P(off) (Shannon); one such step for each node of the diagram.
// Source: A. Rauzy, New algorithms for fault trees analysis, Reliability Engineering and System Safety 40 (1993).
// Tested by: tests/fault/handbook_test.cpp, tests/fault/random_test.cpp, tests/fault/scram_test.py
#include "fault/probability.hpp"

#include <algorithm>
#include <cmath>
#include <string>

namespace lanyard::fault {

namespace {

double probability_of(const CutSet& set, const Probabilities& p) {
    double product = 1;
    for (const std::size_t i : set) {
        if (i >= p.size())
            throw std::invalid_argument("no probability is given for basic event number " + std::to_string(i));
        const double one = p[i];
        if (!(one >= 0 && one <= 1)) throw std::invalid_argument("a probability is a number from 0 to 1");
        product *= one;
    }
    return product;
}

}  // namespace

Evaluator::Evaluator(const Diagrams& s, Function f) {
    const auto parts = s.parts(f);
    std::vector<std::size_t> place(f.node + std::size_t{2}, 0);
    place[1] = 1;
    for (const Function part : parts) {
        const std::size_t event = s.event_of(part);
        events_ = std::max(events_, event + 1);
        place[part.node] = nodes_.size() + 2;
        nodes_.push_back({event, place[s.on(part).node], place[s.off(part).node]});
    }
    root_ = place[f.node];
}

double Evaluator::operator()(const std::vector<Chance>& events) const {
    if (events.size() < events_) throw std::invalid_argument("a probability is given for too few basic events");
    std::vector<double> values{0, 1};
    values.reserve(nodes_.size() + 2);
    for (const Node& n : nodes_)
        values.push_back(events[n.event].failed * values[n.on] + events[n.event].works * values[n.off]);
    return values[root_];
}

double exact_probability(const Diagrams& s, Function f, const Probabilities& p) {
    std::vector<Chance> chances;
    for (const double one : p) {
        if (!(one >= 0 && one <= 1)) throw std::invalid_argument("a probability is a number from 0 to 1");
        chances.push_back({one, 1 - one});
    }
    return Evaluator(s, f)(chances);
}

double rare_event_sum(const std::vector<CutSet>& minimal_cut_sets, const Probabilities& p) {
    double sum = 0;
    for (const CutSet& set : minimal_cut_sets) sum += probability_of(set, p);
    return sum;
}

}  // namespace lanyard::fault
