// Which basic event matters how much for the probability of a top event.
#pragma once

#include <optional>
#include <vector>

#include "fault/cut_sets.hpp"
#include "fault/probability.hpp"

namespace lanyard::fault {

// Q is the exact probability of the top event, Q1 and Q0 the same if the event has surely / surely not happened, p the
// event's own probability. (All definitions also in H. Kumamoto, E. J. Henley, Probabilistic Risk Assessment and
// Management, 2nd ed. 1996.)
struct Importance {
    // Q1 - Q0 = dQ/dp: the probability of a state in which this event decides. Negative where a failure helps.
    // Z. W. Birnbaum, On the importance of different components in a multicomponent system, in Multivariate Analysis II
    // (1969).
    double birnbaum = 0;
    // p (Q1 - Q0) / Q: the probability that the event has happened and decides, given the top event.
    // H. E. Lambert, Fault trees for decision making in systems analysis, UCRL-51829 (1975).
    double criticality = 0;
    // Probability that at least one minimal cut set with this event has happened, given the top event; computed
    // exactly, not by a sum. Nothing for a function that is not coherent, where texts disagree. J. B. Fussell, How to
    // hand-calculate system reliability and safety characteristics, IEEE Trans. Reliability R-24 (1975); W. E. Vesely,
    // A time-dependent methodology for fault tree evaluation (1970).
    std::optional<double> fussell_vesely;
    // Q1 / Q.  W. E. Vesely et al., Measures of risk importance and their applications, NUREG/CR-3385 (1983).
    double risk_achievement_worth = 1;
    // Q / Q0, infinite if the top event cannot happen without this event. NUREG/CR-3385.
    double risk_reduction_worth = 1;
};

// One for each event of the structure, by number; an event that the function does not depend on has 0, 0, 0, 1, 1.
// Nothing if Q = 0: the measures are shares of Q. Throws like exact_probability() and minimal_cut_sets().
std::optional<std::vector<Importance>> importance(Diagrams& s, Function f, const Probabilities& p);

}  // namespace lanyard::fault
