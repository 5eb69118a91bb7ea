// What it computes: measures of importance, each from exact probabilities: of the function with the event made certain
// and made impossible, and of the union of the minimal cut sets that have the event in them. Events are independent, so
// making one certain is giving it probability 1.
// Sources: beside each measure in the header.
// Tested by: tests/fault/importance_test.cpp, tests/fault/random_test.cpp, tests/fault/scram_test.py
#include "fault/importance.hpp"

#include <algorithm>
#include <iterator>
#include <limits>

#include "fault/cut_sets.hpp"

namespace lanyard::fault {

namespace {

// Probability of the union of the cut sets that have event i in them.
double through(Diagrams& s, const std::vector<CutSet>& cut_sets, std::size_t i, const Probabilities& p) {
    std::vector<CutSet> with;
    std::copy_if(cut_sets.begin(), cut_sets.end(), std::back_inserter(with),
                 [&](const CutSet& set) { return std::binary_search(set.begin(), set.end(), i); });
    return exact_probability(s, s.from_cut_sets(with), p);
}

}  // namespace

std::optional<std::vector<Importance>> importance(Diagrams& s, Function f, const Probabilities& p) {
    const double q = exact_probability(s, f, p);
    if (!(q > 0)) return std::nullopt;
    const bool coherent = is_coherent(s, f);
    const auto cut_sets = coherent ? minimal_cut_sets(s, f) : std::vector<CutSet>{};
    std::vector<Importance> out(s.events());
    if (coherent)
        for (auto& one : out) one.fussell_vesely = 0;
    for (const std::size_t i : s.support(f)) {
        auto changed = p;
        changed[i] = 1;
        const double certain = exact_probability(s, f, changed);
        changed[i] = 0;
        const double impossible = exact_probability(s, f, changed);
        auto& one = out[i];
        one.birnbaum = certain - impossible;
        one.criticality = p[i] * one.birnbaum / q;
        if (coherent) one.fussell_vesely = through(s, cut_sets, i, p) / q;
        one.risk_achievement_worth = certain / q;
        one.risk_reduction_worth = impossible > 0 ? q / impossible : std::numeric_limits<double>::infinity();
    }
    return out;
}

}  // namespace lanyard::fault
